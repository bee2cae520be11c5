import { numberAndUnit } from "./number.ts";

/** A cell that may be a number with a decimal comma or point, or one in groups of thousands. */
export interface EitherMark {
  readonly cell: string;
  readonly grouped: string;
  readonly decimal: string;
}

/**
 * What the numbers of a table say about their decimal mark. A mark that stands twice, or before another one, parts thousands; so does one without which a
 * column that rises would fall. One behind a zero, behind more than three digits or before other than three is the decimal one. A point that nothing is said of
 * is a decimal one: that is how instruments write.
 *
 * @param rows the cells of each row
 */
export function decimalMarkOf(rows: readonly (readonly string[])[]): "." | "," | EitherMark | null {
  const width = Math.max(0, ...rows.map(({ length }) => length));
  let either: EitherMark | null = null;
  for (let column = 0; column < width; column++) {
    const cells = rows.map((row) => numberAndUnit(row[column] ?? "")?.number ?? (row[column] ?? "").trim());
    const open: string[] = [];
    for (const cell of cells) {
      const told = toldBy(cell);
      if (told === "," || told === ".") return told;
      if (told === "either") open.push(cell);
    }
    const [first] = open;
    if (first === undefined) continue;
    const mark = first.includes(",") ? "," : ".";
    const told = toldByColumn(cells, mark);
    if (told !== null) return told;
    if (mark === ",")
      either ??= { cell: first, grouped: first.replace(",", ""), decimal: String(Number(first.replace(",", "."))) };
  }
  return either;
}

function toldBy(cell: string): "." | "," | "either" | null {
  if (!/^[+-]?[\d.,]+(?:[eE][+-]?\d+)?$/.test(cell) || !/[.,]/.test(cell)) return null;
  if (/^[+-]?\d{1,3}(?:,\d{3})+(?:,\d{3}|\.\d*)$/.test(cell)) return ".";
  if (/^[+-]?\d{1,3}(?:\.\d{3})+(?:\.\d{3}|,\d*)$/.test(cell)) return ",";
  const [, whole = "", mark, behind = ""] = /^[+-]?(\d*)([.,])(\d*(?:[eE][+-]?\d+)?)$/.exec(cell) ?? [];
  if (mark === undefined) return null;
  const isEither = /^[1-9]\d{0,2}$/.test(whole) && /^\d{3}$/.test(behind);
  return isEither ? "either" : mark === "," ? "," : ".";
}

function toldByColumn(cells: readonly string[], mark: "." | ","): "." | "," | null {
  const numbers = cells.filter((cell) => /^[+-]?\d+(?:[.,]\d{3})?$/.test(cell));
  if (numbers.some((cell) => /^[+-]?\d{4,}$/.test(cell))) return mark;
  const grouped = numbers.map((cell) => Number(cell.replace(mark, "")));
  const decimal = numbers.map((cell) => Number(cell.replace(mark, ".")));
  const [groupsRise, decimalsRise] = [rises(grouped), rises(decimal)];
  if (groupsRise === decimalsRise) return null;
  return groupsRise === (mark === ",") ? "." : ",";
}

function rises(numbers: readonly number[]): boolean {
  return numbers.every((value, index) => index === 0 || value >= numbers[index - 1]);
}
