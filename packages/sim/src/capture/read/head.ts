import { visible } from "../../scenario/text/characters.ts";
import type { Delimiter } from "../types.ts";
import { type Clock, clockOf } from "./clock.ts";
import { cellsOf } from "./csv.ts";
import { decimalMarkOf, type EitherMark } from "./decimal-mark.ts";
import { type CellMeaning, cellMeaning, numberAndUnit } from "./number.ts";

/** Lines that are looked at to recognise how a file is written. */
const LOOKED_AT = 400;
/** By so much more numbers one way of reading is better than another. */
const MARGIN = 1.05;

/** A line of the beginning of a file, cut into cells. */
export interface HeadLine {
  /** From 1. */
  readonly line: number;
  readonly text: string;
  readonly cells: readonly string[];
  /** What its cells mean as numbers; a time of day counts as its seconds. */
  readonly meanings: readonly CellMeaning[];
  readonly clocks: readonly (Clock["holds"] | null)[];
}

/** The beginning of a file, cut one way. */
export interface Cut {
  readonly delimiter: Delimiter;
  readonly decimal: "." | ",";
  readonly lines: readonly HeadLine[];
}

/** One way to read the beginning of a file, and the table found in it that way. */
export interface Dialect extends Cut {
  /** The lines of the table, without blank ones. */
  readonly table: readonly HeadLine[];
  readonly columns: number;
  /** Columns of words, counted from 0: an instrument's mode, a unit, a remark. */
  readonly texts: ReadonlySet<number>;
  /** A number that may be read two ways, where nothing in the table decides. */
  readonly either: EitherMark | null;
}

const WAYS: readonly (readonly [Delimiter, "." | ","])[] = [
  [",", "."],
  [";", ","],
  [";", "."],
  ["\t", "."],
  ["\t", ","],
  // Only with quotes: "0,5","13,8".
  [",", ","],
];

/** The beginning of a file in every way that is asked for. */
export function waysOf(
  head: string,
  given: { readonly delimiter?: Delimiter; readonly decimal?: "." | "," },
): readonly Cut[] {
  const texts = head.split("\n").slice(0, LOOKED_AT);
  return WAYS.filter(
    ([delimiter, decimal]) => (given.delimiter ?? delimiter) === delimiter && (given.decimal ?? decimal) === decimal,
  ).map(([delimiter, decimal]) => ({
    delimiter,
    decimal,
    lines: texts.map((text, index) => headLine(text, index + 1, delimiter, decimal)),
  }));
}

/**
 * The way in which most cells of the beginning are numbers in lines of one length. Of two that read as many, the first one that is told apart by its
 * columns: the order of the list.
 *
 * @param given decimal mark that a person told: then numbers that may be read two ways are read that way
 * @returns null where no way finds two lines of numbers
 */
export function findDialect(
  ways: readonly Cut[],
  { decimal }: { readonly decimal?: "." | "," | undefined },
): Dialect | null {
  const plain = ways.map(tableOfNumbers);
  const best = most(plain);
  // With a wrong mark cells of numbers look like words, too: words count only where more is a table with them.
  const wordy = ways.map(tableWithWords);
  const bestWordy = most(wordy);
  const isWordy = numbersOf(bestWordy) > MARGIN * numbersOf(best);
  const found = underHeading(isWordy ? bestWordy : best, plain);
  if (found.table.length === 0) return null;
  const other = (isWordy ? wordy : plain).find((way) => way.delimiter === found.delimiter && way !== found);
  if (decimal !== undefined || other === undefined || MARGIN * numbersOf(other) < numbersOf(found)) return found;
  const told = decimalMarkOf(found.table.map(({ cells }) => cells));
  if (told === null) return other.decimal === "." && !isCommaIn(found) ? other : found;
  if (typeof told === "object") return { ...found, either: told };
  return told === other.decimal ? other : found;
}

/** `U (V)` above `13,52`: of a comma that makes more columns than there are names, the one that makes as many is a decimal one. */
function underHeading(found: Dialect, ways: readonly Dialect[]): Dialect {
  const { table, lines, delimiter, columns } = found;
  const name = lines[(table[0]?.line ?? 1) - 2];
  if (delimiter !== "," || name === undefined || name.text.trim() === "" || !(name.cells.length < columns))
    return found;
  const whole = ways.find((way) => way.decimal === "," && way.delimiter !== "," && way.table.length === table.length);
  return whole !== undefined && whole.columns === name.cells.length && !name.text.includes(":") ? whole : found;
}

function isCommaIn({ table }: Dialect): boolean {
  return table.some(({ cells, clocks }) => cells.some((cell, index) => clocks[index] === null && cell.includes(",")));
}

function most(ways: readonly Dialect[]): Dialect {
  return ways.reduce((a, b) => (numbersOf(b) > MARGIN * numbersOf(a) ? b : a));
}

function numbersOf({ table, columns, texts }: Dialect): number {
  return table.length * (columns - texts.size);
}

function tableOfNumbers(cut: Cut): Dialect {
  const { lines } = cut;
  // Numbers may stand in the preamble, too: the table is the longest run of lines of numbers.
  let best: { from: number; to: number; columns: number; count: number } = { from: 0, to: 0, columns: 0, count: 0 };
  for (let from = 0; from < lines.length; ) {
    const width = numericWidth(lines[from]);
    if (width === 0) {
      from++;
      continue;
    }
    let columns = width;
    let count = 1;
    let to = from + 1;
    for (; to < lines.length; to++) {
      const each = numericWidth(lines[to]);
      const blank = lines[to].text.trim() === "";
      // The text may end within a line, and a preamble's line of numbers has mostly another length.
      if (!blank && (each === 0 || each > width)) break;
      if (!blank && each < width && lines[to].cells.length < width && to < lines.length - 1) break;
      if (!blank) count++;
      columns = Math.max(columns, each);
    }
    if (count * columns > best.count * best.columns) best = { from, to, columns, count };
    from = to;
  }
  if (best.count < 2) return { ...cut, table: [], columns: 0, texts: new Set(), either: null };
  const begin = firstWhole(lines, best.from, best.columns);
  const table = lines.slice(begin, best.to).filter(({ text }) => text.trim() !== "");
  const texts = Array.from({ length: best.columns }, (_, column) => column).filter(
    (column) =>
      table.some(({ meanings }) => meanings[column] === "text") &&
      !table.some(({ meanings }) => typeof meanings[column] === "number"),
  );
  return { ...cut, table, columns: best.columns, texts: new Set(texts), either: null };
}

/** The longest run of lines whose words stand in columns that hold no number, two columns of numbers at least. */
function tableWithWords(cut: Cut): Dialect {
  const { lines, delimiter } = cut;
  let best: Dialect = { ...cut, table: [], columns: 0, texts: new Set(), either: null };
  for (let from = 0; from < lines.length; ) {
    const table: HeadLine[] = [];
    const columns = lines[from].cells.length;
    const numbers = new Set<number>();
    const texts = new Set<number>();
    let to = from;
    for (; to < lines.length; to++) {
      const { text, cells, meanings } = lines[to];
      if (text.trim() === "") continue;
      const words = meanings.flatMap((meaning, column) => (meaning === "text" ? [column] : []));
      // Cells that hold another mark for cells were not cut.
      const uncut = words.some((column) => (delimiter === "," ? /[;\t]/ : /\t/).test(cells[column] ?? ""));
      if (cells.length !== columns || uncut || words.some((column) => numbers.has(column))) break;
      const values = meanings.flatMap((meaning, column) => (typeof meaning === "number" ? [column] : []));
      if (values.length === 0) break;
      for (const column of words) texts.add(column);
      for (const column of values) if (!texts.has(column)) numbers.add(column);
      table.push(lines[to]);
    }
    const found = { ...cut, table, columns, texts, either: null };
    if (table.length >= 2 && columns - texts.size >= 2 && numbersOf(found) > numbersOf(best)) best = found;
    from = Math.max(to, from + 1);
  }
  return best;
}

/** A cell that is no number ends a run of numbers, but not the table: it goes up to the first whole line that is reached without leaving it. */
function firstWhole(lines: readonly HeadLine[], from: number, columns: number): number {
  let first = from;
  for (let at = from - 1; at >= 0; at--) {
    const { cells, meanings, text } = lines[at];
    if (text.trim() === "") continue;
    if (cells.length !== columns || !meanings.some((each) => typeof each === "number")) break;
    if (numericWidth(lines[at]) === columns) first = at;
  }
  return first;
}

function headLine(text: string, line: number, delimiter: Delimiter, decimal: "." | ","): HeadLine {
  const parsed = text === "" ? [] : (cellsOf(text, delimiter)[0] ?? []);
  // Names are shown to people: nothing in them may move a cursor.
  const cells = parsed.map((cell) => (/^[\x20-\x7e]*$/.test(cell) ? cell : visible(cell)));
  const clocks = cells.map((cell) => clockOf(cell));
  const meanings = cells.map((cell, index) => clocks[index]?.seconds ?? meaningOf(cell, decimal));
  return { line, text, cells, meanings, clocks: clocks.map((clock) => clock?.holds ?? null) };
}

function meaningOf(cell: string, decimal: "." | ","): CellMeaning {
  const meaning = cellMeaning(cell, decimal);
  const parts = meaning === "text" ? numberAndUnit(cell) : null;
  return parts === null ? meaning : cellMeaning(parts.number, decimal);
}

/** Cells up to the last that is not blank, where all of a line are numbers or nothing and one is a number; else 0. */
function numericWidth({ meanings, cells }: HeadLine): number {
  if (meanings.includes("text") || !meanings.some((each) => typeof each === "number")) return 0;
  return cells.length;
}
