/**
 * Measures how deeply a text is nested from its lexical tokens: open brackets, plus the columns at which blocks stand
 * inside one another. It may count a level too many, never (by more than a factor of two) too few.
 */
export class DepthMeter {
  private brackets = 0;
  private readonly columns: number[] = [];

  /** Depth after this token; `column` counts from 0. */
  after(token: string, column: number, isScalar: boolean): number {
    if (!isScalar && (token === "[" || token === "{")) this.brackets += 1;
    else if (!isScalar && (token === "]" || token === "}")) this.brackets = Math.max(0, this.brackets - 1);
    else if (this.brackets === 0 && (isScalar || token === "-" || token === "?")) this.enter(column);
    return this.brackets + this.columns.length;
  }

  private enter(column: number): void {
    while ((this.columns.at(-1) ?? -1) > column) this.columns.pop();
    if (this.columns.at(-1) !== column) this.columns.push(column);
  }
}
