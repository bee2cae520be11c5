import type { CaptureLayout } from "../types.ts";
import { CellReader } from "./cells.ts";
import { cellsOf } from "./csv.ts";
import { BLANK, NOT_PLAIN, PlainLines } from "./plain.ts";
import type { Problems } from "./problems.ts";
import type { Store } from "./store.ts";
import { Strays } from "./strays.ts";

/** Lines handed to the CSV parser at once where one of them is not plain. */
const LINES = 500;
const QUOTE = '"';
/** No line of numbers is longer; without an end a text would be kept and kept. */
const LONGEST_LINE = 1 << 20;

/** Takes text in pieces of any length and fills the store with the table's rows; the line before the first piece is `line`. */
export class RowReader {
  readonly values: CellReader;
  line: number;
  /** Rows that had fewer cells than the others, which count as gaps. */
  short = 0;
  private readonly plain: PlainLines;
  private readonly strays: Strays;
  private pending = "";
  private readonly layout: CaptureLayout;
  private readonly store: Store;
  private readonly problems: Problems;

  constructor(layout: CaptureLayout, store: Store, problems: Problems) {
    this.layout = layout;
    this.store = store;
    this.problems = problems;
    this.line = layout.firstLine - 1;
    this.plain = new PlainLines(layout.columns, layout.delimiter, layout.decimal);
    this.values = new CellReader(layout, problems, this.plain.most);
    this.strays = new Strays(problems);
  }

  /** The largest whole number that the digits of a cell make, by column. */
  get digits(): Float64Array {
    return this.plain.most;
  }

  push(text: string): void {
    const all = this.pending + text;
    const end = all.lastIndexOf("\n") + 1;
    this.pending = all.slice(end);
    if (this.pending.length > LONGEST_LINE) {
      this.problems.add(
        {
          code: "line-too-long",
          message: "A line does not end.",
          received: `more than ${LONGEST_LINE >> 10} kB`,
          allowed: "lines of a table, each ended",
        },
        this.problems.at(this.line + 1, this.pending.slice(0, 200)),
      );
      this.pending = "";
    }
    if (end > 0) this.block(all.slice(0, end), false);
  }

  end(): void {
    const last = this.pending;
    this.pending = "";
    if (last.trim() !== "") this.block(`${last}\n`, true);
    this.strays.end();
  }

  private block(text: string, last: boolean): void {
    const { plain, store } = this;
    const { gaps } = this.values;
    const { row } = plain;
    for (let from = 0; from < text.length; ) {
      const next = plain.read(text, from);
      if (next === NOT_PLAIN) {
        const to = this.others(text, from, last);
        if (to === NOT_PLAIN) {
          this.pending = text.slice(from) + this.pending;
          return;
        }
        from = to;
        continue;
      }
      from = next;
      this.line++;
      if (plain.width === BLANK) continue;
      this.strays.row();
      for (let c = 0; c < row.length; c++) if (Number.isNaN(row[c])) gaps[c]++;
      store.add(row);
    }
  }

  /**
   * Hands some lines to the CSV parser; quoted cells may hold line ends, so the cut comes where no quote is open.
   *
   * @returns where it stopped, or `NOT_PLAIN` where an open quote may close in the next piece
   */
  private others(text: string, from: number, last: boolean): number {
    let to = from;
    for (let lines = 0; to < text.length; ) {
      const end = text.indexOf("\n", to) + 1;
      to = end;
      lines++;
      if (lines >= LINES && !oddQuotes(text, from, to)) break;
    }
    if (oddQuotes(text, from, to)) {
      if (!last && to - from < LONGEST_LINE) return NOT_PLAIN;
      this.problems.add(
        {
          code: "open-quote",
          message: "A quoted cell does not end.",
          received: QUOTE,
          allowed: "a quote at both ends of a cell",
        },
        this.problems.at(this.line + 1, text.slice(from, text.indexOf("\n", from))),
      );
    }
    const data = cellsOf(text.slice(from, to).replaceAll("\r", ""), this.layout.delimiter);
    // The text ends with a line end; behind it stands nothing.
    data.pop();
    for (const cells of data) {
      this.line++;
      this.cells(cells);
      // Line ends within cells count as lines, too.
      for (const cell of cells) for (let at = cell.indexOf("\n"); at >= 0; at = cell.indexOf("\n", at + 1)) this.line++;
    }
    return to;
  }

  private cells(cells: readonly string[]): void {
    if (cells.every((cell) => cell.trim() === "")) return;
    const { row } = this.plain;
    const { delimiter } = this.layout;
    if (this.values.isStray(cells)) {
      this.strays.add(this.line, cells.join(delimiter));
      return;
    }
    this.strays.row();
    const surplus = cells.slice(row.length).some((cell) => cell.trim() !== "");
    if (surplus) {
      this.problems.add(
        {
          code: "too-many-cells",
          message: "This line has more cells than the table has columns.",
          received: `${cells.length} cells`,
          allowed: `${row.length} cells`,
        },
        this.problems.at(this.line, cells.join(delimiter)),
      );
      return;
    }
    if (cells.length < row.length) this.short++;
    this.values.read(cells, this.line, row);
    this.store.add(row);
  }
}

function oddQuotes(text: string, from: number, to: number): boolean {
  let odd = false;
  for (let at = text.indexOf(QUOTE, from); at >= 0 && at < to; at = text.indexOf(QUOTE, at + 1)) odd = !odd;
  return odd;
}
