import type { Clock } from "./clock.ts";
import type { Dialect, HeadLine } from "./head.ts";
import { numberAndUnit } from "./number.ts";
import { columnUnit, plainUnit, splitHeader } from "./units.ts";

export const INDEX_NAME = /^(?:#|no\.?|nr\.?|n|index|sequence|sample|samples|row|point|count|record)$/i;

/** What a column is called and what it holds in the lines looked at. */
export interface Column {
  readonly column: number;
  readonly name: string;
  readonly unit: string;
  /** Of a clamp that its heading names, A/V; null: it names none. */
  readonly amperesPerVolt: number | null;
  readonly numbers: readonly number[];
  readonly cells: readonly string[];
  readonly clock: Clock["holds"] | null;
  /** It holds words, such as an instrument's mode. */
  readonly text: boolean;
}

/** The columns of a table; a unit behind the numbers themselves rules over a row of units, that over the names, those over a column of words beside it. */
export function columnsOf(
  { table, columns, texts }: Dialect,
  names: HeadLine | null,
  units: HeadLine | null,
): Column[] {
  const found = Array.from({ length: columns }, (_, index): Column => {
    const { name, unit, amperesPerVolt } = splitHeader(names?.cells[index] ?? "", names?.cells ?? []);
    const cells = table.map((line) => line.cells[index] ?? "");
    const numbers = table.flatMap(({ meanings }) => {
      const meaning = meanings[index];
      return typeof meaning === "number" ? [meaning] : [];
    });
    const clocks = table.flatMap((line) => line.clocks[index] ?? []);
    const clock = clocks.find((holds) => holds !== "date") ?? clocks[0] ?? null;
    const behind = clock === null ? (cells.flatMap((cell) => numberAndUnit(cell)?.unit ?? [])[0] ?? "") : "clock";
    const row = plainUnit(units?.cells[index] ?? "");
    const all = behind || row || unit;
    return { column: index + 1, name, unit: all, amperesPerVolt, numbers, cells, clock, text: texts.has(index) };
  });
  return found.map((each) => (each.unit === "" ? { ...each, unit: unitBeside(found, each) } : each));
}

/** `13.78;V`: what a column of words says where it stands right behind these numbers; the empty text where it names no unit. */
function unitBeside(columns: readonly Column[], { column, text, clock }: Column): string {
  if (text || clock !== null) return "";
  const next = columns.slice(column).find((each) => !each.text || isUnit(each.cells[0] ?? ""));
  return next?.text === true ? plainUnit(next.cells[0] ?? "") : "";
}

function isUnit(word: string): boolean {
  const measures = columnUnit(word)?.measures;
  return measures === "voltage" || measures === "current";
}

export function steps(numbers: readonly number[]): number[] {
  return numbers.slice(1).map((value, index) => value - numbers[index]);
}
