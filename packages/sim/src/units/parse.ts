import { nearest } from "./nearest.ts";
import { type Dimension, dimensionsOf, exampleOf, findSpelling, spellingsOf } from "./table.ts";
import { listed } from "./words.ts";

/** Why a text is no quantity. */
export type QuantityProblem =
  | "nothing-written"
  | "not-a-number"
  | "not-finite"
  | "decimal-comma"
  | "thousands-separator"
  | "missing-unit"
  | "unknown-unit"
  | "wrong-unit";

/** A value in the dimension's own unit, or why there is none. */
export type ParsedQuantity =
  | { readonly ok: true; readonly value: number }
  | {
      readonly ok: false;
      readonly code: QuantityProblem;
      /** A whole sentence. */
      readonly message: string;
      /** What may stand there: its units and an example. */
      readonly allowed: string | null;
      /** What helps; null where nothing does. */
      readonly hint: string | null;
    };

const NUMBER = /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?/;
const THOUSANDS = /^[+-]?\d{1,3}(?:(?:[ '\u2019_\u00a0\u202f]\d{3})+|(?:,\d{3}){2,}|(?:,\d{3})+\.\d+)(?!\d)/;
const DECIMAL_COMMA = /^[+-]?\d+,\d+/;
const NOT_FINITE = /^[+-]?\.?(?:nan|inf|infinity)\b/i;

/**
 * Reads one written quantity, for instance `4700 µF`, into the unit of its dimension (F here).
 *
 * @param text what stands in the file: a plain decimal number, with exponent if need be, and one unit of the closed table;
 *   a time may also be written in parts, `2 min 5 s`
 * @param dimension what it must measure
 * @returns the value in SI units (temperatures in °C, charge in Ah, gauge in AWG), or the problem explained
 *
 * @example parseQuantity("15 mohm", "resistance") // { ok: true, value: 0.015 }
 */
export function parseQuantity(text: string, dimension: Dimension): ParsedQuantity {
  const trimmed = text.trim();
  if (trimmed === "") return problem("nothing-written", "There is no value here.", dimension);
  const commas = commaProblem(trimmed, dimension);
  if (commas !== null) return commas;
  if (NOT_FINITE.test(trimmed)) return problem("not-finite", "Only finite numbers have a meaning here.", dimension);
  const zeros = dimension === "gauge" ? /^([1-4])\/0 ?AWG$/.exec(trimmed) : null;
  // 1/0 is gauge 0, 4/0 is gauge −3.
  if (zeros !== null) return { ok: true, value: 1 - Number(zeros[1]) };
  const number = NUMBER.exec(trimmed)?.[0];
  if (number === undefined) return problem("not-a-number", "This does not begin with a number.", dimension);
  const value = Number(number);
  if (!Number.isFinite(value)) {
    return problem("not-finite", "This number is larger than a computer can hold.", dimension);
  }
  const unit = trimmed.slice(number.length).trim().replace(/\s+/g, " ");
  const spelling = findSpelling(unit, dimension);
  if (spelling !== null) {
    // Division by a whole number keeps `4700 uF` at the double nearest to 0.0047.
    const inverse = 1 / spelling.factor;
    const scaled =
      spelling.factor < 1 && Math.abs(inverse - Math.round(inverse)) < 1e-6
        ? value / Math.round(inverse)
        : value * spelling.factor;
    const result = scaled + spelling.offset;
    if (!Number.isFinite(result))
      return problem("not-finite", "This value is larger than a computer can hold.", dimension);
    return { ok: true, value: result };
  }
  return (dimension === "time" ? partedTime(trimmed) : null) ?? unitProblem(number, unit, dimension);
}

/** `1 h 20 min 5 s`: parts in falling order, each unit once. */
function partedTime(text: string): ParsedQuantity | null {
  const match = /^(?:(\d+) ?h)?(?: ?(\d+) ?min)?(?: ?(\d+(?:\.\d+)?) ?s)?$/.exec(text.replace(/\s+/g, " "));
  if (match === null) return null;
  const [hours, minutes, seconds] = match.slice(1).map((part) => (part === undefined ? 0 : Number(part)));
  const value = 3600 * hours + 60 * minutes + seconds;
  return Number.isFinite(value) ? { ok: true, value } : null;
}

function commaProblem(text: string, dimension: Dimension): ParsedQuantity | null {
  const thousands = THOUSANDS.exec(text);
  if (thousands !== null) {
    const joined = thousands[0].replace(/[^\d.+-]/g, "");
    const message = "Thousands separators are not allowed: they are read differently in different countries.";
    return problem("thousands-separator", message, dimension, `write ${joined}`);
  }
  const comma = DECIMAL_COMMA.exec(text);
  if (comma !== null) {
    const [written] = comma;
    const message = "A comma stands in the number: decimals are written with a point.";
    const point = text.replace(written, written.replace(",", "."));
    const joined = text.replace(written, written.replace(",", ""));
    const ambiguous = /,\d{3}$/.test(written);
    return problem(
      "decimal-comma",
      message,
      dimension,
      ambiguous ? `write ${point} or ${joined}, whichever is meant` : `write ${point}`,
    );
  }
  return null;
}

function unitProblem(number: string, unit: string, dimension: Dimension): ParsedQuantity {
  if (unit === "") {
    return problem(
      "missing-unit",
      `The unit is missing: ${article(dimension)} ${dimension} is wanted here.`,
      dimension,
      `put the unit behind it: ${listed(unitsFor(dimension), "or")}`,
    );
  }
  const others = dimensionsOf(unit);
  if (others.length > 0) {
    const takesNone = spellingsOf(dimension).every((spelling) => spelling === "");
    const wanted = takesNone ? "a number without a unit" : `${article(dimension)} ${dimension}`;
    const hint =
      unit === "AWG" && dimension === "area"
        ? `write gauge: ${number} AWG instead of area`
        : `${wanted} is written as in ${exampleOf(dimension)}`;
    return problem(
      "wrong-unit",
      `The unit ${unit} measures ${article(others[0])} ${others[0]}, but ${wanted} is wanted here.`,
      dimension,
      hint,
    );
  }
  const near = meantUnit(unit, dimension);
  const inFeet = dimension === "length" && FEET.test(unit);
  return problem(
    "unknown-unit",
    `There is no unit ${unit} here.`,
    dimension,
    inFeet
      ? "lengths are in m, cm or mm: 1 ft is 0.3048 m, 1 in is 2.54 cm"
      : near === null
        ? `write it as in ${exampleOf(dimension)}`
        : `did you mean ${near}?`,
  );
}

/** Feet and inches, in letters or with the marks that are put behind their numbers. */
const FEET = /^(?:f(?:oo|ee)?t|in|['"\u2032\u2033\u2018-\u201d])/i;
/** Spellings that are words: among shorter ones, and those with a stroke, one letter makes another size. */
const WORD = /ohm|AWG|min/;

/** The unit of this dimension that a misspelt one can only mean: none that would change the value silently. Null where there is none. */
function meantUnit(unit: string, dimension: Dimension): string | null {
  const units = unitsFor(dimension);
  const small = unit.toLowerCase();
  const called = UNITS_BY_NAME[small.replace(/s$/, "")];
  if (units.includes(called)) return called;
  const alike = units.filter((each) => each.toLowerCase() === small);
  // M is mega wherever the rest is right: 1 MV is no slip for 1 mV that could be told from one for 1 V.
  if (alike.length === 1) return alike[0] !== unit.replace(/^M(?=.)/, "m") ? alike[0] : null;
  return nearest(
    unit,
    units.filter((each) => WORD.test(each) && each[0] === unit[0]),
  );
}

/** Units as they are spoken, one of each, which none of the table's spellings is near to. */
const UNITS_BY_NAME: Readonly<Record<string, string>> = Object.freeze({
  sec: "s",
  second: "s",
  msec: "ms",
  usec: "us",
  hour: "h",
  min: "min",
  minute: "min",
  volt: "V",
  amp: "A",
  ampere: "A",
  watt: "W",
  meter: "m",
  metre: "m",
  sqmm: "mm2",
});

function article(word: string): string {
  return /^[aeioI]/.test(word) ? "an" : "a";
}

function problem(
  code: QuantityProblem,
  message: string,
  dimension: Dimension,
  hint: string | null = null,
): ParsedQuantity {
  return { ok: false, code, message, allowed: allowedText(dimension), hint };
}

/** What a dimension allows, for a message: its units and one example. */
export function allowedText(dimension: Dimension): string {
  const units = unitsFor(dimension);
  const example = exampleOf(dimension);
  return units.length === 0
    ? `a number without a unit, such as ${example}`
    : `a number with ${listed(units, "or")}, such as ${example}`;
}

/** Without the spellings that look like another one in print. */
function unitsFor(dimension: Dimension): string[] {
  return spellingsOf(dimension).filter((unit) => unit !== "" && !/[\u03bc\u2126]/.test(unit));
}
