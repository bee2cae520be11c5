import { checkMost, HEAD, keptRows } from "./thin.ts";
import type { Trace } from "./types.ts";

/** Grows row by row; a row is a time and one value a column. Where a bound is set, it thins what it holds whenever it is full. */
export class Recorder {
  private readonly columns: number;
  private readonly width: number;
  private readonly most: number;
  private store: Float64Array;
  private rows = 0;
  private added = 0;
  private everyEvent = true;

  /**
   * @param columns how many values a row has
   * @param most rows that are held at any time; no more memory is taken than for so many
   * @throws RangeError when that is too few to keep what a thinned recording keeps
   */
  constructor(columns: number, most = Number.POSITIVE_INFINITY) {
    this.columns = columns;
    // In front of the values: the time, and the row's number among all that were ever added.
    this.width = columns + HEAD;
    if (most !== Number.POSITIVE_INFINITY) checkMost(Math.floor(most / 2), columns);
    this.most = most;
    this.store = new Float64Array(0);
  }

  get length(): number {
    return this.rows;
  }

  /** What was left out; undefined where nothing was. */
  get thinned(): Trace["thinned"] {
    return this.added === this.rows ? undefined : { from: this.added, everyEvent: this.everyEvent };
  }

  add(time: number, values: ArrayLike<number>): void {
    if (this.rows >= this.most) this.thin();
    const start = this.rows * this.width;
    if (start + this.width > this.store.length) {
      const larger = new Float64Array(
        Math.min(Math.max(2 * this.store.length, 256 * this.width), this.most * this.width),
      );
      larger.set(this.store);
      this.store = larger;
    }
    const { store } = this;
    store[start] = time;
    store[start + 1] = this.added;
    for (let c = 0; c < values.length; c++) store[start + HEAD + c] = values[c];
    this.rows++;
    this.added++;
  }

  /** Time of every row, s. */
  times(): Float64Array {
    return this.pick(0);
  }

  /** All values of one column. */
  column(index: number): Float64Array {
    return this.pick(index + HEAD);
  }

  /** To half of what may be held, so that this is seldom done. */
  private thin(): void {
    const { store, width } = this;
    const kept = keptRows({ count: this.rows, columns: this.columns, store }, Math.floor(this.most / 2));
    for (const [place, row] of kept.rows.entries()) store.copyWithin(place * width, row * width, (row + 1) * width);
    this.rows = kept.rows.length;
    this.everyEvent &&= kept.everyEvent;
  }

  private pick(offset: number): Float64Array {
    const out = new Float64Array(this.rows);
    for (let r = 0; r < this.rows; r++) out[r] = this.store[r * this.width + offset];
    return out;
  }
}
