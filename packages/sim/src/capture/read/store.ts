/** Columns of numbers that grow row by row; one array a column. */
export class Store {
  rows = 0;
  columns: Float64Array[];
  private room: number;

  /** @param expected rows that are probably coming; more fit as well */
  constructor(width: number, expected: number) {
    this.room = Math.max(1024, Math.ceil(expected));
    this.columns = Array.from({ length: width }, () => new Float64Array(this.room));
  }

  add(row: Float64Array): void {
    if (this.rows === this.room) this.grow();
    const { columns, rows } = this;
    for (let c = 0; c < columns.length; c++) columns[c][rows] = row[c];
    this.rows = rows + 1;
  }

  /** All values of a column (counted from 0), without a copy. */
  column(index: number): Float64Array {
    return this.columns[index].subarray(0, this.rows);
  }

  private grow(): void {
    this.room = Math.ceil(1.5 * this.room);
    this.columns = this.columns.map((column) => {
      const larger = new Float64Array(this.room);
      larger.set(column);
      return larger;
    });
  }
}
