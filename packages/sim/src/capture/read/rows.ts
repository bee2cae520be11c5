import papaparse from "papaparse";
import type { CaptureLayout } from "../types.ts";
import { cellMeaning, clockSeconds, clockStep, digitsOf } from "./number.ts";
import { BLANK, NOT_PLAIN, PlainLines } from "./plain.ts";
import type { Problems } from "./problems.ts";
import type { Store } from "./store.ts";

/** Lines handed to the CSV parser at once where one of them is not plain. */
const LINES = 500;
const QUOTE = '"';
/** No line of numbers is longer; without an end a text would be kept and kept. */
const LONGEST_LINE = 1 << 20;

/** Takes text in pieces of any length and fills the store with the table's rows; the line before the first piece is `line`. */
export class RowReader {
  /** Cells without a number and cells beyond the range, by column. */
  readonly gaps: number[];
  readonly beyond: number[];
  /** Whether a sign told to which side, by column. */
  readonly signed: boolean[];
  /** How finely times of day are written, s. */
  clockStep = 60;
  line: number;
  /** Rows that had fewer cells than the others, which count as gaps. */
  short = 0;
  private readonly plain: PlainLines;
  private readonly ignored: readonly boolean[];
  private readonly clock: number;
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
    this.gaps = Array.from({ length: layout.columns }, () => 0);
    this.beyond = this.gaps.slice();
    this.signed = this.gaps.map(() => false);
    const used = new Set([layout.time?.column, ...layout.channels.map(({ column }) => column)]);
    this.ignored = this.gaps.map((_, index) => !used.has(index + 1));
    this.clock = layout.time?.unit === "clock" ? layout.time.column - 1 : -1;
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
  }

  private block(text: string, last: boolean): void {
    const { plain, store, gaps } = this;
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
    const { data } = papaparse.parse(text.slice(from, to).replaceAll("\r", ""), {
      delimiter: this.layout.delimiter,
      newline: "\n",
    });
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
    const { delimiter, decimal } = this.layout;
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
    for (let c = 0; c < row.length; c++) row[c] = this.cell(cells, c, decimal);
    this.store.add(row);
  }

  private cell(cells: readonly string[], index: number, decimal: "." | ","): number {
    const cell = cells[index] ?? "";
    const clock = index === this.clock ? clockSeconds(cell) : null;
    if (clock !== null) {
      this.clockStep = Math.min(this.clockStep, clockStep(cell));
      return clock;
    }
    const meaning = cellMeaning(cell, decimal);
    const { most } = this.plain;
    if (typeof meaning === "number") {
      most[index] = Math.max(most[index], digitsOf(cell));
      return meaning;
    }
    if (meaning === "beyond" || meaning === "above" || meaning === "below") {
      this.beyond[index]++;
      if (meaning !== "beyond") this.signed[index] = true;
      return meaning === "below" ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
    }
    this.gaps[index]++;
    if (meaning === "text" && !this.ignored[index]) {
      const before = cells.slice(0, index).reduce((sum, each) => sum + each.length + 1, 1);
      this.problems.add(
        {
          code: "no-number",
          message: `Column ${index + 1} holds something that is no number.`,
          received: cell.trim(),
          allowed: `a number with a decimal ${decimal === "." ? "point" : "comma"}, or nothing`,
          hint: "leave the cell empty where nothing was recorded",
        },
        this.problems.at(this.line, cells.join(this.layout.delimiter), before, cell.length),
      );
    }
    return Number.NaN;
  }
}

function oddQuotes(text: string, from: number, to: number): boolean {
  let odd = false;
  for (let at = text.indexOf(QUOTE, from); at >= 0 && at < to; at = text.indexOf(QUOTE, at + 1)) odd = !odd;
  return odd;
}
