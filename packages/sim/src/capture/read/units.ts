import { findSpelling } from "../../units/index.ts";

/** Words that instruments and people write for units of the closed table. */
const WORDS: Readonly<Record<string, string>> = {
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
};

/** Units that a column may have besides; they are recognised as units, not judged. */
const FOREIGN = /^(?:°C|degC|°F|K|%|dB|dBm|dBV|W|mW|kW|Hz|kHz|MHz|Ω|ohm|kΩ|Ah|mAh|Wh|J|Pa|hPa|rpm|bar|deg|°)$/;

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
    .replace(/^[([{]\s*|\s*[)\]}]$/g, "")
    .trim();
  return WORDS[bare.toLowerCase()] ?? bare;
}

/** @returns null where that is no unit */
export function columnUnit(written: string): ColumnUnit | null {
  const unit = plainUnit(written);
  if (unit === "") return null;
  for (const measures of ["time", "voltage", "current"] as const) {
    const spelling = findSpelling(unit, measures);
    if (spelling !== null) return { measures, factor: spelling.factor };
  }
  return FOREIGN.test(unit) ? { measures: "other", factor: Number.NaN } : null;
}

/** `Supply (V)`, `supply [mV]`, `t/ms`, `load_V`, `time, s`: name and unit; the empty text where no unit stands there. */
export function splitHeader(cell: string): { readonly name: string; readonly unit: string } {
  const text = cell.trim().replace(/^#\s*/, "");
  for (const pattern of [
    /^(.*?)\s*[([{]([^()[\]{}]+)[)\]}]\s*$/,
    /^(.+?)\s*[/,]\s*([^/,]+)$/,
    /^(.+)_([^_]+)$/,
    /^(.+)\s+in\s+(\S+)$/i,
  ]) {
    const match = pattern.exec(text);
    if (match?.[2] === undefined || columnUnit(match[2]) === null) continue;
    return { name: match[1] === "" || match[1] === undefined ? text : match[1], unit: plainUnit(match[2]) };
  }
  return { name: text, unit: "" };
}
