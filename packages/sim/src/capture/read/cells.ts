import type { CaptureLayout } from "../types.ts";
import { clockOf, type DateOrder, isClock } from "./clock.ts";
import { type CellMeaning, cellMeaning, digitsOf, numberAndUnit } from "./number.ts";
import type { Problems } from "./problems.ts";
import { columnUnit, plainUnit } from "./units.ts";

/** What the cells of rows say that are more than plain numbers, and what was wrong with them. */
export class CellReader {
  /** Cells without a number and cells beyond the range, by column. */
  readonly gaps: number[];
  readonly beyond: number[];
  /** Whether a sign told to which side, by column. */
  readonly signed: boolean[];
  /** How finely times of day are written, s. */
  clockStep = 60;
  private readonly ignored: readonly boolean[];
  private readonly time: number;
  private readonly date: number;
  /** How the time column's dates are written; null: it holds none. */
  private readonly order: DateOrder | null;
  /** The unit of each column's numbers. */
  private readonly units: readonly string[];
  /** Units that columns of words named first. */
  private readonly named = new Map<number, string>();
  private openDate: string | null = null;
  private line = 0;
  private readonly layout: CaptureLayout;
  private readonly problems: Problems;
  private readonly most: Float64Array;

  /** @param most the largest whole number that the digits of a cell make, by column; kept up to date */
  constructor(layout: CaptureLayout, problems: Problems, most: Float64Array) {
    this.layout = layout;
    this.problems = problems;
    this.most = most;
    const { time, channels } = layout;
    this.gaps = Array.from({ length: layout.columns }, () => 0);
    this.beyond = this.gaps.slice();
    this.signed = this.gaps.map(() => false);
    this.time = (time?.column ?? 0) - 1;
    this.date = (time?.date ?? 0) - 1;
    this.order = time !== null && isClock(time.unit) ? time.unit : null;
    const channelAt = (index: number) => channels.find(({ column }) => column === index + 1);
    this.units = this.gaps.map((_, index) => plainUnit((index === this.time ? time : channelAt(index))?.unit ?? ""));
    this.ignored = this.gaps.map((_, index) => index !== this.time && channelAt(index) === undefined);
  }

  /** Reads the cells of a line into a row. */
  read(cells: readonly string[], line: number, row: Float64Array): void {
    this.line = line;
    for (let c = 0; c < row.length; c++) row[c] = this.cell(cells, c);
    if (this.date >= 0) row[this.time] += this.clock(cells, this.date) ?? this.spoiled(cells, this.date);
  }

  /** Words where the time stands, or nothing but words: no row, but what somebody wrote below or between. */
  isStray(cells: readonly string[]): boolean {
    const word = (index: number): boolean =>
      /^\s*[^\d\s+\-.,]/.test(cells[index] ?? "") && this.says(cells, index) === "text";
    if (this.time >= 0) return word(this.time);
    let words = 0;
    for (let c = 0; c < this.ignored.length; c++) {
      if (this.ignored[c] || (cells[c] ?? "").trim() === "") continue;
      if (!word(c)) return false;
      words++;
    }
    return words > 0;
  }

  private clock(cells: readonly string[], index: number): number | null {
    const clock = clockOf(cells[index] ?? "", this.order ?? "clock");
    if (clock === null) return null;
    if (index === this.time) this.clockStep = Math.min(this.clockStep, clock.step);
    if (clock.open !== null && this.order === "clock") {
      this.openDate ??= clock.open;
      if (clock.open !== this.openDate) this.eitherOrder(cells, index);
    }
    return clock.seconds;
  }

  private eitherOrder(cells: readonly string[], index: number): void {
    const { problems, layout } = this;
    if (problems.count("date-order") > 0) return;
    problems.add(
      {
        code: "date-order",
        message:
          "Whether these dates begin with the day or with the month is not known: none of those looked at has a part above 12.",
        received: `${this.openDate}, then ${cells[index].trim()}`,
        allowed: "dates with the year first, with dots (day first), or an order that is told",
        hint: `say which comes first (--time "${layout.time?.column}, day first" or "${layout.time?.column}, month first")`,
      },
      problems.at(this.line, cells.join(layout.delimiter)),
    );
  }

  private says(cells: readonly string[], index: number): CellMeaning {
    const cell = cells[index] ?? "";
    const { decimal } = this.layout;
    const clock = index === this.time && this.order !== null ? this.clock(cells, index) : null;
    if (clock !== null) return clock;
    const meaning = cellMeaning(cell, decimal);
    if (meaning !== "text") return meaning;
    const parts = numberAndUnit(cell);
    return parts === null || parts.unit !== this.units[index] ? meaning : cellMeaning(parts.number, decimal);
  }

  private cell(cells: readonly string[], index: number): number {
    const cell = cells[index] ?? "";
    const meaning = this.says(cells, index);
    const { most } = this;
    if (typeof meaning === "number") {
      if (index !== this.time || this.order === null) most[index] = Math.max(most[index], digitsOf(cell));
      return meaning;
    }
    if (meaning === "beyond" || meaning === "above" || meaning === "below") {
      this.beyond[index]++;
      if (meaning !== "beyond") this.signed[index] = true;
      return meaning === "below" ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
    }
    this.gaps[index]++;
    if (meaning !== "text") return Number.NaN;
    if (this.ignored[index]) this.word(cells, index);
    else this.spoiled(cells, index);
    return Number.NaN;
  }

  /** A column of words beside the values may name their unit: then it must be one. */
  private word(cells: readonly string[], index: number): void {
    const word = cells[index].trim();
    const before = this.named.get(index);
    if (before === word) return;
    const measures = columnUnit(word)?.measures;
    if (measures !== "voltage" && measures !== "current") return;
    if (before === undefined) this.named.set(index, word);
    else
      this.tell(cells, index, {
        code: "unit-changes",
        message: `Column ${index + 1} names another unit.`,
        allowed: `${before}, as in the lines above: one unit in a column`,
        hint: "set the instrument to one range, or export in one unit",
      });
  }

  /** Tells of a cell that holds what does not belong there. */
  private spoiled(cells: readonly string[], index: number): number {
    const isTime = index === this.time || index === this.date;
    const what = index === this.date ? "date" : isTime && this.order !== null ? "date or time of day" : "number";
    const unit =
      numberAndUnit(cells[index] ?? "") === null ? "" : `, in ${this.units[index]} where a unit stands behind it`;
    const number = `a number with a decimal ${this.layout.decimal === "." ? "point" : "comma"}${unit}`;
    const allowed = what === "number" ? number : `a ${what}`;
    this.tell(cells, index, {
      code: "no-number",
      message: `Column ${index + 1} holds something that is no ${what}.`,
      allowed: isTime ? allowed : `${allowed}, or nothing`,
      hint: isTime
        ? "give each line its time, or leave the line out"
        : "leave the cell empty where nothing was recorded, or the column out (--channel names those that are read)",
    });
    return Number.NaN;
  }

  private tell(
    cells: readonly string[],
    index: number,
    problem: { readonly code: string; readonly message: string; readonly allowed: string; readonly hint: string },
  ): void {
    const cell = cells[index] ?? "";
    const before = cells.slice(0, index).reduce((sum, each) => sum + each.length + 1, 1);
    this.problems.add(
      { ...problem, received: cell.trim() },
      this.problems.at(this.line, cells.join(this.layout.delimiter), before, cell.length),
    );
  }
}
