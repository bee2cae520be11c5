import type { PreambleLine } from "../types.ts";
import { INDEX_NAME } from "./columns.ts";
import type { Dialect, HeadLine } from "./head.ts";
import { columnUnit } from "./units.ts";

/** What stands above a table of numbers. */
interface Heading {
  readonly names: HeadLine | null;
  readonly units: HeadLine | null;
  readonly above: readonly HeadLine[];
}

/** The rows with names and with units right above the table. */
export function heading({ lines, table, columns }: Dialect): Heading {
  const above = lines.slice(0, table[0].line - 1).filter(({ text }) => text.trim() !== "");
  const fits = (line: HeadLine | undefined): line is HeadLine =>
    line !== undefined &&
    filledCells(line) > columns / 2 &&
    line.cells.length <= columns + 1 &&
    line.cells.length >= Math.min(2, columns);
  const last = above.at(-1);
  if (!fits(last)) return { names: null, units: null, above };
  const filled = last.cells.filter((cell) => cell.trim() !== "");
  if (!filled.every((cell) => columnUnit(cell) !== null))
    return { names: last, units: null, above: above.slice(0, -1) };
  const before = above.at(-2);
  // A key with a value above a row of units is no row of names.
  return fits(before) && filledCells(before) >= filledCells(last)
    ? { names: before, units: last, above: above.slice(0, -2) }
    : { names: null, units: last, above: above.slice(0, -1) };
}

function filledCells({ cells }: HeadLine): number {
  return cells.filter((cell) => cell.trim() !== "").length;
}

/**
 * `X,CH1,Start,Increment` above `Sequence,Volt,-6.0e-3,1.0e-6`: the sample interval stands in a column of its own, in the row of units.
 */
export function withIncrement(found: Heading): Heading & { readonly increment: readonly PreambleLine[] } {
  const under = found.units ?? found.names;
  const over = found.units === null ? found.above.at(-1) : found.names;
  const column = over?.cells.findIndex((cell) => /^increment$/i.test(cell.trim())) ?? -1;
  const value = under?.cells[column] ?? "";
  if (over == null || under === null || !(typeof under.meanings[column] === "number"))
    return { ...found, increment: [] };
  const isValue = (index: number): boolean => typeof under.meanings[index] === "number";
  const counts = (index: number): boolean => INDEX_NAME.test(under.cells[index]?.trim() ?? "");
  const names = over.cells.map((cell, index) =>
    isValue(index) ? "" : counts(index) ? (under.cells[index] ?? "") : cell,
  );
  const units = under.cells.map((cell, index) => (isValue(index) || counts(index) ? "" : cell));
  return {
    names: { ...over, cells: names },
    units: { ...under, cells: units },
    above: found.above.filter((line) => line !== over),
    increment: [{ line: under.line, key: "Increment", value }],
  };
}
