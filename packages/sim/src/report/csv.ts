import type { Trace } from "../trace/types.ts";

/** A cell of a table; null: nothing is known. */
export type Cell = string | number | null;

/** The instant after which a reader counts, s since the start of the run, and what happens then. */
export interface CountedFrom {
  readonly time: number;
  /** What happens then. */
  readonly what: "fault" | "start" | "trip";
}

/** Beyond this a value holds more digits than any model or meter. */
const VALUE_DIGITS = 9;

/**
 * A table as comma-separated values after RFC 4180, line by line. Numbers are written with 9 significant digits at most, null as an
 * empty cell.
 *
 * @param header names of the columns, each with its unit at its end
 * @returns lines with their CR LF
 * @example [...csvTable(["voltage_V", "time_s"], [[16, 0.001]])].join("")
 */
export function* csvTable(header: readonly string[], rows: Iterable<readonly Cell[]>): Generator<string> {
  yield `${header.map(field).join(",")}\r\n`;
  for (const row of rows) {
    yield `${row.map((cell) => (typeof cell === "string" ? field(cell) : cell === null ? "" : short(cell))).join(",")}\r\n`;
  }
}

/**
 * A trace as comma-separated values after RFC 4180, line by line: a header (`time_s`, the time after the fault, then each quantity with
 * its unit), then a row a recorded instant. Values have 9 significant digits at most, times as many as tell every two rows apart.
 *
 * @param from the instant after which a second column of time counts; left out: there is none
 * @returns lines with their CR LF
 * @example writeFileSync("hut.csv", [...csvLines(run.trace, { time: scenario.faultTime, what: "fault" })].join(""))
 */
export function* csvLines({ time, columns }: Trace, from?: CountedFrom): Generator<string> {
  const after = from === undefined ? [] : [afterColumn(from)];
  yield `${["time_s", ...after, ...columns.map(({ name }) => field(name))].join(",")}\r\n`;
  const zero = from?.time ?? 0;
  for (let row = 0; row < time.length; row++) {
    const digits = timeDigits(time, row, zero);
    let line = short(time[row], digits);
    if (from !== undefined) line += `,${short(time[row] - zero, digits)}`;
    for (const { values } of columns) line += `,${short(values[row])}`;
    yield `${line}\r\n`;
  }
}

/** Name of the column that counts from an instant: `time_after_fault_s`. */
export function afterColumn({ what }: CountedFrom, name = "time"): string {
  return `${name}_after_${what}_s`;
}

/** A time of which nothing is known but itself: to 10 ns within hours. */
export function timeText(time: number): string {
  return short(time, 12);
}

/** As many digits as keep a row's time apart from its neighbours', counted from the start or from `zero`. */
function timeDigits(time: Float64Array, row: number, zero: number): number {
  const apart = (other: number): number =>
    other === time[row] || Number.isNaN(other) ? Infinity : Math.abs(other - time[row]);
  const step = Math.min(apart(time[row - 1] ?? Number.NaN), apart(time[row + 1] ?? Number.NaN));
  const size = Math.max(Math.abs(time[row]), Math.abs(time[row] - zero));
  const digits = Math.ceil(Math.log10(Math.max(1, size / step))) + 2;
  return Math.min(17, Math.max(VALUE_DIGITS, digits));
}

function short(value: number, digits = VALUE_DIGITS): string {
  return String(Number(value.toPrecision(digits)));
}

/** A name that begins like a formula gets a quote before it, or a spreadsheet would work it out; numbers do not. */
function field(text: string): string {
  const isFormula = /^[=+\-@\t]/.test(text) && !Number.isFinite(Number(text));
  return quoted(isFormula ? `'${text}` : text);
}

function quoted(text: string): string {
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
