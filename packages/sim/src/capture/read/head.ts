import papaparse from "papaparse";
import { visible } from "../../scenario/text/characters.ts";
import type { Delimiter } from "../types.ts";
import { type CellMeaning, cellMeaning, clockSeconds } from "./number.ts";

/** Lines that are looked at to recognise how a file is written. */
const LOOKED_AT = 400;

/** A line of the beginning of a file, cut into cells. */
export interface HeadLine {
  /** From 1. */
  readonly line: number;
  readonly text: string;
  readonly cells: readonly string[];
  /** What its cells mean as numbers; a time of day counts as its seconds. */
  readonly meanings: readonly CellMeaning[];
  readonly clocks: readonly boolean[];
}

/** One way to read the beginning of a file, and the table found in it that way. */
export interface Dialect {
  readonly delimiter: Delimiter;
  readonly decimal: "." | ",";
  readonly lines: readonly HeadLine[];
  /** The lines of the table, without blank ones. */
  readonly table: readonly HeadLine[];
  readonly columns: number;
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

/**
 * The way in which most cells of the beginning are numbers in lines of one length. Of two that read as many, the first one that is told apart by its
 * columns: the order of the list.
 *
 * @param head the beginning of a file, line feeds at its line ends
 * @returns null where no way finds two lines of numbers
 */
export function findDialect(
  head: string,
  given: { readonly delimiter?: Delimiter; readonly decimal?: "." | "," },
): Dialect | null {
  const texts = head.split("\n").slice(0, LOOKED_AT);
  const ways = WAYS.filter(
    ([delimiter, decimal]) => (given.delimiter ?? delimiter) === delimiter && (given.decimal ?? decimal) === decimal,
  ).map(([delimiter, decimal]) => dialectOf(texts, delimiter, decimal));
  const counted = ways.map((way) => ({ way, numbers: way.table.length * way.columns }));
  const best = counted.reduce((a, b) => (b.numbers > 1.05 * a.numbers ? b : a));
  return best.numbers === 0 ? null : best.way;
}

function dialectOf(texts: readonly string[], delimiter: Delimiter, decimal: "." | ","): Dialect {
  const lines = texts.map((text, index) => headLine(text, index + 1, delimiter, decimal));
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
  const begin = firstWhole(lines, best.from, best.columns);
  const table = lines.slice(begin, best.to).filter(({ text }) => text.trim() !== "");
  return best.count < 2
    ? { delimiter, decimal, lines, table: [], columns: 0 }
    : { delimiter, decimal, lines, table, columns: best.columns };
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
  const parsed = text === "" ? [] : (papaparse.parse(text, { delimiter, newline: "\n" }).data[0] ?? []);
  // Names are shown to people: nothing in them may move a cursor.
  const cells = parsed.map((cell) => (/^[\x20-\x7e]*$/.test(cell) ? cell : visible(cell)));
  const clocks = cells.map((cell) => clockSeconds(cell) !== null);
  const meanings = cells.map((cell) => clockSeconds(cell) ?? cellMeaning(cell, decimal));
  return { line, text, cells, meanings, clocks };
}

/** Cells up to the last that is not blank, where all of a line are numbers or nothing and one is a number; else 0. */
function numericWidth({ meanings, cells }: HeadLine): number {
  if (meanings.includes("text") || !meanings.some((each) => typeof each === "number")) return 0;
  return cells.length;
}
