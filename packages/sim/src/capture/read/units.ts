import { findSpelling } from "../../units/index.ts";

/** Words that instruments and people write for units of the closed table. */
const WORDS: Readonly<Record<string, string>> = {
  mvolt: "mV",
  mvolts: "mV",
  volt: "V",
  volts: "V",
  millivolt: "mV",
  millivolts: "mV",
  ampere: "A",
  amperes: "A",
  amp: "A",
  amps: "A",
  second: "s",
  seconds: "s",
  sec: "s",
  secs: "s",
  millisecond: "ms",
  milliseconds: "ms",
  msec: "ms",
  microsecond: "µs",
  microseconds: "µs",
  usec: "µs",
  minute: "min",
  minutes: "min",
  hour: "h",
  hours: "h",
  day: "d",
  days: "d",
};

/** Units that a column may have besides; they are recognised as units, not judged. */
const FOREIGN =
  /^(?:°C|degC|°F|K|%|%RH|dB|dBm|dBV|W|mW|kW|VA|Hz|kHz|MHz|Ω|ohms?|mΩ|kΩ|MΩ|Ah|mAh|Wh|kWh|J|Pa|hPa|kPa|rpm|RPM|bar|psi|deg|°|kg|Nm|mm|km\/h|lx|lux|mT|µF|mH|counts)$/;
/** In brackets behind a name these are no unit. */
const QUALIFIER = /^(?:ac|dc|avg|min|max|rms|raw|ref|in|out|old|new|low|top|on|off|n\/a)$/i;
/** So short a word in brackets is meant as a unit; one that ends in a digit is an input of an instrument. */
const LIKE_UNIT = /^[a-zA-Zµμ°Ω%][a-zA-Zµμ°Ω%/·^-]{0,3}$/;

/** What a unit of a capture measures: its dimension and how many of its SI unit it is. */
export interface ColumnUnit {
  readonly measures: "time" | "voltage" | "current" | "other";
  /** s, V or A of one. */
  readonly factor: number;
}

/** The spelling without brackets, of the closed table where it is a word for one of them. */
export function plainUnit(written: string): string {
  const bare = written
    .trim()
    .replace(/^[([{]|[)\]}]$/g, "")
    .trim();
  return WORDS[bare.toLowerCase()] ?? bare;
}

/** @returns null where that is no unit */
export function columnUnit(written: string): ColumnUnit | null {
  const unit = plainUnit(written);
  if (unit === "") return null;
  if (unit === "d") return { measures: "time", factor: 86_400 };
  for (const measures of ["time", "voltage", "current"] as const) {
    const spelling = findSpelling(unit, measures);
    if (spelling !== null) return { measures, factor: spelling.factor };
  }
  return FOREIGN.test(unit) ? { measures: "other", factor: Number.NaN } : null;
}

const SCALE = /^(\d+(?:\.\d+)?(?:e[+-]?\d+)?)\s*([mkµμ]?[AV])\/([mkµμ]?[AV])$/;

/** `100 mV/A`, `10 A/V`: what a clamp or a shunt makes of a volt, A; null where that is none. */
export function scaleOf(written: string): number | null {
  const [, number = "", over = "", under = ""] = SCALE.exec(written) ?? [];
  const [a, b] = [columnUnit(over), columnUnit(under)];
  if (a === null || b === null || a.measures === b.measures || !(Number(number) > 0)) return null;
  const scale = (Number(number) * a.factor) / b.factor;
  return a.measures === "current" ? scale : 1 / scale;
}

interface Header {
  readonly name: string;
  /** The empty text where none stands there. */
  readonly unit: string;
  /** Of a clamp that the heading names, A/V; null: it names none. */
  readonly amperesPerVolt: number | null;
}

/** A scale anywhere in a heading; bounded, for a heading may be long. */
const SCALE_WITHIN = /(?:^|[\s,_([{])(\d[\d.,]{0,15}(?:e[+-]?\d{1,3})?\s?[mkµμ]?[AV]\/[mkµμ]?[AV])(?![\w/])/;
/** A comma that may part thousands. */
const EITHER = /^[1-9]\d*,\d{3}(?!\d)/;

/**
 * `Supply (V)`, `supply [mV]`, `t/ms`, `load_V`, `time, s`, `CH1 mV`, `gate V`, `U (mV DC)`, `ms`: name and unit, also one that nobody knows in brackets: `Supply (kp)`; and the scale of a clamp: `lead (100 mV/A)`.
 *
 * @param others all headings of the row: what they tell apart by letters is no unit
 */
export function splitHeader(cell: string, others: readonly string[]): Header {
  const whole = cell.trim().replace(/^#\s*/, "");
  const [found = "", written = ""] = SCALE_WITHIN.exec(whole) ?? [];
  if (written === "") return { ...nameAndUnit(whole, others), amperesPerVolt: null };
  const at = whole.indexOf(found) + found.length;
  const before = whole
    .slice(0, at - written.length)
    .trimEnd()
    .replace(/[,_]$/, "");
  const behind = whole.slice(at).trimStart().replace(/^[,_]/, "");
  const isBracketed = /[([{]$/.test(before) && /^[)\]}]/.test(behind);
  const rest = isBracketed ? `${before.slice(0, -1)} ${behind.slice(1)}` : `${before} ${behind}`;
  const parts = nameAndUnit(rest.trim(), others);
  const amperesPerVolt = scaleOf(EITHER.test(written) ? written : written.replace(",", "."));
  // One that cannot be read is a unit that nobody knows: better refused than lost.
  return amperesPerVolt === null ? { ...parts, unit: written, amperesPerVolt } : { ...parts, amperesPerVolt };
}

function nameAndUnit(text: string, others: readonly string[]): { readonly name: string; readonly unit: string } {
  if (isPlainly(text)) return { name: text, unit: plainUnit(text) };
  for (const part of [inBrackets, behindMark, behindUnderscore, behindIn, behindHyphen, behindBlank]) {
    const [name, written] = part(text, others) ?? [];
    const unit = part === inBrackets ? written && unqualified(written) : written;
    if (name === undefined || unit === undefined || columnUnit(unit) === null) continue;
    // "A/D" and "ch_d" are names.
    if (plainUnit(unit) === "d" && part !== inBrackets) continue;
    return { name: name === "" ? text : name, unit: plainUnit(unit) };
  }
  const [before, inside] = inBrackets(text) ?? [];
  const isMeant = inside !== undefined && LIKE_UNIT.test(inside.trim()) && !QUALIFIER.test(inside.trim());
  return isMeant && before !== undefined
    ? { name: before === "" ? text : before, unit: inside.trim() }
    : { name: text, unit: "" };
}

const CURRENT = /(?:^|[^a-z])(?:current|amps?|amperes?|shunt|strom)(?:[^a-z]|$)|^i(?:\d*$|[_ (])/i;

/** Whether a channel is called a current: where it is in volts, a shunt or a clamp stands before it that nobody told of. */
export function isCalledCurrent(name: string): boolean {
  return CURRENT.test(name) && !/volt/i.test(name);
}

// Without patterns: a heading may be as long as what is looked at of a file, and patterns that search for an end take their time on it.
type Parted = readonly [name: string, unit: string] | null;

function unqualified(unit: string): string {
  const at = unit.lastIndexOf(" ");
  return at > 0 && QUALIFIER.test(unit.slice(at + 1)) ? unit.slice(0, at).trimEnd() : unit;
}

function inBrackets(text: string): Parted {
  if (!/[)\]}]$/.test(text)) return null;
  const open = Math.max(...["(", "[", "{"].map((mark) => text.lastIndexOf(mark)));
  const inside = text.slice(open + 1, -1);
  return open < 0 || inside === "" || /[)\]}]/.test(inside) ? null : [text.slice(0, open).trimEnd(), inside];
}

function behindMark(text: string): Parted {
  // "(mV/A)" is a scale without its number, no unit.
  if (/[AV]\/m?[AV][)\]}]$/.test(text)) return null;
  const at = Math.max(text.lastIndexOf("/"), text.lastIndexOf(","));
  return at < 1 ? null : [text.slice(0, at).trimEnd(), text.slice(at + 1).trim()];
}

function behindUnderscore(text: string): Parted {
  const at = text.lastIndexOf("_");
  return at < 1 ? null : [text.slice(0, at), text.slice(at + 1)];
}

/** A word that is a unit wherever it stands alone: not of one letter, for `CH A` is a channel's name, and a light bar is no pressure. */
function isPlainly(word: string): boolean {
  return columnUnit(word) !== null && !/^(?:[a-z]|bar)$/i.test(word) && !QUALIFIER.test(word);
}

/** What is told apart by letters, or has its rating behind it: `CH A`, `fuse 30 A`. */
const LETTERED = /(?:^|[^a-z])(?:ch|chan|channel|probe|input|phase|port|pin|bank|string)\.?$|\s\d\d+$/i;

/** `gate V`, `load A`; but not where `load B` stands beside it. */
function isLetter(word: string, name: string, others: readonly string[]): boolean {
  if (!/^[a-z]$/i.test(word) || word === "d" || columnUnit(word) === null || LETTERED.test(name)) return false;
  return !others.some((other) => {
    const [letter = "", next = ""] = other.trim().startsWith(`${name} `) ? other.trim().slice(name.length + 1) : "";
    return /[a-z]/i.test(letter) && !/[a-z]/i.test(next) && columnUnit(letter) === null;
  });
}

function behindHyphen(text: string): Parted {
  const at = text.lastIndexOf("-");
  return at < 1 || !isPlainly(text.slice(at + 1)) ? null : [text.slice(0, at), text.slice(at + 1)];
}

function behindBlank(text: string, others: readonly string[]): Parted {
  const at = text.lastIndexOf(" ");
  const [name, word] = [text.slice(0, at).trimEnd(), text.slice(at + 1)];
  return at < 1 || !(isPlainly(word) || isLetter(word, name, others)) ? null : [name, word];
}

function behindIn(text: string): Parted {
  const unit = text.split(/\s+/).at(-1) ?? "";
  const before = text.slice(0, text.length - unit.length).trimEnd();
  return /\sin$/i.test(before) ? [before.slice(0, -2).trimEnd(), unit] : null;
}
