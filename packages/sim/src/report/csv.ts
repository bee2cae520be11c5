import type { Trace } from "../trace/types.ts";

/** A cell of a table; null: nothing is known. */
export type Cell = string | number | null;

/**
 * A table as comma-separated values after RFC 4180, line by line. Numbers are written with as many digits as give back the same
 * number, null as an empty cell.
 *
 * @param header names of the columns, each with its unit at its end
 * @returns lines with their CR LF
 * @example [...csvTable(["voltage_V", "time_s"], [[16, 0.001]])].join("")
 */
export function* csvTable(header: readonly string[], rows: Iterable<readonly Cell[]>): Generator<string> {
  yield `${header.map(field).join(",")}\r\n`;
  for (const row of rows) {
    yield `${row.map((cell) => (typeof cell === "string" ? field(cell) : cell === null ? "" : String(cell))).join(",")}\r\n`;
  }
}

/**
 * A trace as comma-separated values after RFC 4180, line by line: a header (`time_s`, then each quantity with its unit), then a row a
 * recorded instant. Numbers are written with as many digits as give back the same number.
 *
 * @returns lines with their CR LF
 * @example writeFileSync("hut.csv", [...csvLines(run.trace)].join(""))
 */
export function* csvLines({ time, columns }: Trace): Generator<string> {
  yield `${["time_s", ...columns.map(({ name }) => field(name))].join(",")}\r\n`;
  for (let row = 0; row < time.length; row++) {
    let line = String(time[row]);
    for (const { values } of columns) line += `,${values[row]}`;
    yield `${line}\r\n`;
  }
}

function field(text: string): string {
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
