/** Grows row by row; a row is a time and one value a column. */
export class Recorder {
  private readonly width: number;
  private store: Float64Array;
  private rows = 0;

  constructor(width: number) {
    this.width = width + 1;
    this.store = new Float64Array(256 * this.width);
  }

  get length(): number {
    return this.rows;
  }

  add(time: number, values: Float64Array): void {
    const start = this.rows * this.width;
    if (start + this.width > this.store.length) {
      const larger = new Float64Array(2 * this.store.length);
      larger.set(this.store);
      this.store = larger;
    }
    this.store[start] = time;
    const { store } = this;
    for (let c = 0; c < values.length; c++) store[start + 1 + c] = values[c];
    this.rows++;
  }

  /** Time of every row, s. */
  times(): Float64Array {
    return this.pick(0);
  }

  /** All values of one column. */
  column(index: number): Float64Array {
    return this.pick(index + 1);
  }

  private pick(offset: number): Float64Array {
    const out = new Float64Array(this.rows);
    for (let r = 0; r < this.rows; r++) out[r] = this.store[r * this.width + offset];
    return out;
  }
}
