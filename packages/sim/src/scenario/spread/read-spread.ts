import { allowedText, type Dimension, nearest, parseQuantity } from "../../units/index.ts";
import { findSpelling } from "../../units/table.ts";
import { grades } from "./grades.ts";
import type { Spread, SpreadShape } from "./types.ts";

/** The value that a spread belongs to. */
export interface Nominal {
  readonly dimension: Dimension;
  /** In `unit`, as the file has it. */
  readonly value: number;
  readonly unit: string;
  /** Of the whole scenario, °C: drift counts from there unless the spread says otherwise. */
  readonly ambient: number;
}

export type ReadSpread = Pick<Spread, "low" | "high" | "shape" | "drift">;

/** Why a text is no spread of this value. */
export interface SpreadProblem {
  readonly code: string;
  readonly message: string;
  readonly allowed: string | null;
  readonly hint: string | null;
}

const SHAPES: readonly SpreadShape[] = ["uniform", "normal", "corners"];

/** What may stand there, for a message. */
function allowedSpread(dimension: Dimension): string {
  return `±5 % (or +-5 %), 15 V ± 0.3 V, ± and ${allowedText(dimension)}, low…high (or low..high) with the unit, -20…+80 %, or \`grade\` and a name; then uniform, normal or corners; then with ±50 ppm/K`;
}

/**
 * Reads a spread: `±5 %`, `±0.3 V normal`, `15 V ± 0.3 V`, `14.3…15.8 V`, `-20…+80 %`, `grade resistor 1 %`, each with `with -3 mV/K from 25 °C` if need be.
 * On a keyboard `+-` stands for ±, and `..` for ….
 *
 * @returns ends in the nominal value's unit, or what is wrong
 * @example readSpread("±2 % normal", { dimension: "voltage", value: 15, unit: "V", ambient: 25 }) // 14.7 to 15.3
 */
export function readSpread(text: string, nominal: Nominal): ReadSpread | SpreadProblem {
  const [main, drifts, ...more] = text.trim().split(/\swith\s/);
  if (more.length > 0) return problem("unreadable-spread", "The word `with` stands twice here.", nominal);
  const words = (main ?? "").trim();
  const shape = SHAPES.find((each) => words === each || words.endsWith(` ${each}`)) ?? null;
  const core = (shape === null ? words : words.slice(0, -shape.length)).trim();
  const ends = endsOf(core, nominal);
  if ("code" in ends) return ends;
  const drift = drifts === undefined ? ends.drift : driftOf(drifts.trim(), nominal);
  if (drift !== null && "code" in drift) return drift;
  const { low, high } = ends;
  if (![low, high].every(Number.isFinite)) return problem("not-finite", "These ends are not finite.", nominal);
  const span = `${shown(low, nominal)} … ${shown(high, nominal)}`;
  if (low > high) {
    const message = `This spread contradicts itself: it goes from ${span}.`;
    return { code: "contradictory-spread", message, allowed: "the lower end first", hint: "exchange the two" };
  }
  if (low === high) {
    const message = "A spread of nothing: both ends are the same.";
    return { code: "no-spread", message, allowed: "two ends that differ", hint: "delete the line" };
  }
  if (nominal.value < low || nominal.value > high) {
    const message = `The value itself, ${shown(nominal.value, nominal)}, lies outside its spread of ${span}.`;
    return { code: "nominal-outside", message, allowed: "a spread around the value", hint: "correct one of the two" };
  }
  return { low, high, shape: shape ?? "uniform", drift };
}

/** 13.8 − 0.1 is 13.7. */
const rounded = (value: number): number => Number(value.toPrecision(12));

/**
 * Two ends alone, for a value that is varied on purpose: `14…17 V`, `±20 %`; it need not lie between them.
 *
 * @example readRange("14..17 V", { dimension: "voltage", value: 12, unit: "V", ambient: 25 }) // { low: 14, high: 17 }
 */
export function readRange(text: string, nominal: Nominal): { low: number; high: number } | SpreadProblem {
  const ends = endsOf(text.trim(), nominal);
  if ("code" in ends) return ends;
  const { low, high } = ends;
  if (low < high) return { low, high };
  const message = `This range contradicts itself: it goes from ${shown(low, nominal)} to ${shown(high, nominal)}.`;
  return {
    code: "contradictory-spread",
    message,
    allowed: "the lower end first, and two ends that differ",
    hint: null,
  };
}

const shown = (value: number, { unit }: Nominal): string => `${Number(value.toPrecision(6))} ${unit}`.trim();

type Ends = Pick<ReadSpread, "low" | "high" | "drift">;

function endsOf(core: string, nominal: Nominal): Ends | SpreadProblem {
  const graded = /^grade(?:\s(.*))?$/s.exec(core);
  if (graded !== null) return gradeOf((graded[1] ?? "").trim(), nominal);
  const around = partedAt(core, /±|\+-|\+\/-/g, 0);
  if (around !== null) {
    const [middle, width] = around;
    const centre = middle === "" ? nominal.value : amount(middle, nominal, "value");
    const size = amount(width, nominal, "difference");
    if (typeof centre !== "number") return centre;
    if (typeof size !== "number") return size;
    if (size < 0) {
      const message = "The size of a spread is not negative: ± stands for both signs.";
      return problem("contradictory-spread", message, nominal);
    }
    const [low = Number.NaN, high = Number.NaN] = [-size, size].map((off) => rounded(centre + off));
    return { low, high, drift: null };
  }
  const between = partedAt(core, /…|\.{2,3}/g, 1);
  if (between === null) return problem("unreadable-spread", "This is no spread.", nominal);
  const [from, to] = between;
  const unit = to.replace(NUMBER, "");
  const first = from.replace(NUMBER, "") === "" ? `${from}${unit}` : from;
  const isShare = isPercent(to, nominal);
  if (isShare !== isPercent(first, nominal))
    return problem("unreadable-spread", "One end is a share and the other is not.", nominal);
  const [low, high] = [first, to].map((each) => amount(each, nominal, isShare ? "difference" : "value"));
  if (typeof low === "object") return low;
  if (typeof high === "object") return high;
  const base = isShare ? nominal.value : 0;
  return { low: rounded(base + Number(low)), high: rounded(base + Number(high)), drift: null };
}

/** What stands before and behind the first mark from a place on; null where there is none, or nothing behind it. */
function partedAt(text: string, mark: RegExp, least: number): readonly [before: string, behind: string] | null {
  mark.lastIndex = least;
  const found = mark.exec(text);
  const behind = found === null ? "" : text.slice(found.index + found[0].length).trim();
  return found === null || behind === "" ? null : [text.slice(0, found.index).trim(), behind];
}

/** A share of the value, unless the value itself is written in %. */
function isPercent(text: string, { dimension }: Nominal): boolean {
  return dimension !== "ratio" && text.trim().endsWith("%");
}

/** In the nominal value's unit. */
function amount(text: string, nominal: Nominal, what: "difference" | "value"): number | SpreadProblem {
  if (isPercent(text, nominal)) {
    if (nominal.dimension === "temperature")
      return problem("share-of-temperature", "There are no per cent of a temperature: its zero is arbitrary.", nominal);
    const share = parseQuantity(text, "ratio");
    return share.ok ? share.value * Math.abs(nominal.value) : fromUnits(share, nominal);
  }
  const { dimension, unit } = nominal;
  const read = parseQuantity(text, dimension);
  if (!read.ok) return fromUnits(read, nominal);
  const own = findSpelling(text.trim().replace(NUMBER, "").trim(), dimension);
  const { factor = 1, offset = 0 } = findSpelling(unit, dimension) ?? {};
  // A difference knows no zero: 5 K and 5 °C are the same one.
  const from = what === "difference" ? (own?.offset ?? 0) : offset;
  return rounded((read.value - from) / factor);
}

const NUMBER = /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?/;

function gradeOf(name: string, nominal: Nominal): Ends | SpreadProblem {
  const found = grades.find((each) => each.name === name);
  if (found === undefined) {
    const names = grades.map((each) => each.name);
    const near = nearest(name, names);
    return {
      code: "unknown-word",
      message: `There is no grade \`${name}\`.`,
      allowed: names.join(" | "),
      hint: near === null ? null : `did you mean \`grade ${near}\`?`,
    };
  }
  const { value, ambient } = nominal;
  const size = Math.abs(value);
  const slope = found.drift * size;
  const drift = slope === 0 ? null : { low: -slope, high: slope, from: ambient };
  return { low: rounded(value + found.low * size), high: rounded(value + found.high * size), drift };
}

/** `-3 mV/K`, `±50 ppm/K`, `±0.02 %/K`, each with `from 25 °C` if need be. */
function driftOf(text: string, nominal: Nominal): NonNullable<ReadSpread["drift"]> | SpreadProblem {
  const wrong = (message: string): SpreadProblem => ({
    code: "unreadable-drift",
    message,
    allowed: "what the value gains for each kelvin: -3 mV/K, ±50 ppm/K, ±0.02 %/K; then from 25 °C if need be",
    hint: null,
  });
  const kelvin = /\/\s*K(?:\s+from\s|$)/.exec(text);
  const sign = /^(?:±|\+-|\+\/-)/.exec(text)?.[0];
  const size = text.slice(sign?.length ?? 0, kelvin?.index).trim();
  const behind = kelvin === null ? "" : text.slice(kelvin.index + kelvin[0].length).trim();
  const from = kelvin?.[0].endsWith("K") ? undefined : behind;
  if (kelvin === null || size === "" || from === "") return wrong("This is no drift over temperature.");
  const ppm = /^([+-]?[\d.]+(?:[eE][+-]?\d+)?)\s*ppm$/.exec(size);
  const slope = ppm === null ? amount(size, nominal, "difference") : 1e-6 * Number(ppm[1]) * Math.abs(nominal.value);
  if (typeof slope === "object") return wrong(slope.message);
  if (!Number.isFinite(slope)) return wrong("This drift is not finite.");
  const start = from === undefined ? null : parseQuantity(from, "temperature");
  if (start !== null && !start.ok) return wrong(start.message);
  const room = start === null ? nominal.ambient : start.value;
  return sign === undefined
    ? { low: slope, high: slope, from: room }
    : { low: -Math.abs(slope), high: Math.abs(slope), from: room };
}

function fromUnits(
  { code, message, allowed, hint }: Extract<ReturnType<typeof parseQuantity>, { ok: false }>,
  { dimension }: Nominal,
): SpreadProblem {
  return { code, message, allowed: allowed ?? allowedSpread(dimension), hint };
}

function problem(code: string, message: string, { dimension }: Nominal): SpreadProblem {
  return { code, message, allowed: allowedSpread(dimension), hint: null };
}
