import { columnUnit, plainUnit } from "./units.ts";

const NUMBER = /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?$/;
/** Thousands in groups, by the decimal mark of the file: `1,234.5`, `1.234,5`, `1'234`. No group begins with a zero. */
const GROUPED = {
  ".": /^[+-]?[1-9]\d{0,2}([,'’\u00a0\u202f])\d{3}(?:\1\d{3})*(?:\.\d*)?$/,
  ",": /^[+-]?[1-9]\d{0,2}([.'’\u00a0\u202f])\d{3}(?:\1\d{3})*(?:,\d*)?$/,
} as const;
const BEHIND = /^([+-]?[\d.,'’]+(?:[eE][+-]?\d+)?)\s?([A-Za-zµμΩ°%]{1,6})$/;
const NOTHING = /^(?:|-+|n\/?a|nan|null|none)$/i;
/** Words of meters, recorders and spreadsheets for a value that did not fit. */
const BEYOND =
  /^([+-]?)\s*(?:inf(?:inity)?|∞|[o0]l|o\.l\.?|[o0]vld?|[o0]vr?f|over(?:load|flow|range)?|out of range|clip(?:ped|ping)?|[*#]{2,})$/i;

/**
 * What instruments after SCPI-1999 (volume 1, 7.2.1.4 and 7.2.1.5) send for no number, 9.91E37; for infinity they send ±9.9E37. Taken to a tenth of what
 * lies between them, for some write seven digits of a single precision number.
 */
const NO_NUMBER = 9.91e37;
const LARGEST = 1e30;

/** Whether a number stands for something else, or is larger than anything that was ever measured: its square would soon be no number. */
export function isMark(value: number): boolean {
  return Math.abs(value) > LARGEST;
}

/** What a cell says: a number, nothing at all, that the instrument was out of its range (to which side, where a sign tells), or what is no value. */
export type CellMeaning = number | "nothing" | "beyond" | "above" | "below" | "text";

/** Reads a cell of numbers with the decimal mark of its file. */
export function cellMeaning(cell: string, decimal: "." | ","): CellMeaning {
  const text = cell.trim();
  if (NOTHING.test(text)) return "nothing";
  const whole = GROUPED[decimal].test(text) ? text.replaceAll(decimal === "," ? /[^\d,+-]/g : /[^\d.+-]/g, "") : text;
  const plain = decimal === "," ? whole.replace(",", ".") : whole;
  if (NUMBER.test(plain) && !(decimal === "," && whole.includes("."))) {
    const value = Number(plain);
    if (!isMark(value)) return value;
    return Math.abs(value / NO_NUMBER - 1) < 1e-4 ? "nothing" : value > 0 ? "above" : "below";
  }
  const beyond = BEYOND.exec(text);
  if (beyond === null) return "text";
  return beyond[1] === "-" ? "below" : beyond[1] === "+" ? "above" : "beyond";
}

/** `13.78 V` as its number and its unit; null where no unit that is known stands behind a number. */
export function numberAndUnit(cell: string): { readonly number: string; readonly unit: string } | null {
  const [, number, unit] = BEHIND.exec(cell.trim()) ?? [];
  return number === undefined || unit === undefined || columnUnit(unit) === null
    ? null
    : { number, unit: plainUnit(unit) };
}

/** All digits of a number as one whole number, trailing zeros with them: how many there are tells how finely it was written. */
export function digitsOf(cell: string): number {
  return Number(cell.replace(/[eE].*$/s, "").replaceAll(/\D/g, ""));
}

/**
 * What the last written digit is worth. The number with the most digits of a column is the one that the largest value has, whether a fixed number of decimals
 * or of digits is written.
 *
 * @param most the largest of `digitsOf`
 * @param largest of the values' magnitudes
 */
export function lastDigit(most: number, largest: number): number {
  if (!(most > 0) || !(largest > 0)) return 0;
  return 10 ** (exponentOf(largest) - exponentOf(most));
}

function exponentOf(value: number): number {
  return Number(value.toExponential().replace(/^.*e/, ""));
}
