// What the least-squares library asks of its matrices, in place of a package of matrices that is larger than all the rest of a page: the same sums in the same order, so
// that results are the same to the last bit. A test holds the two against each other.

export class Matrix {
  readonly rows: number;
  readonly columns: number;
  private readonly data: readonly Float64Array[];

  constructor(rows: number, columns: number) {
    this.rows = rows;
    this.columns = columns;
    this.data = Array.from({ length: rows }, () => new Float64Array(columns));
  }

  static zeros(rows: number, columns: number): Matrix {
    return new Matrix(rows, columns);
  }

  static filled(rows: number, columns: number, value: (i: number, j: number) => number): Matrix {
    const made = new Matrix(rows, columns);
    made.data.forEach((row, i) => {
      for (let j = 0; j < columns; j++) row[j] = value(i, j);
    });
    return made;
  }

  get(i: number, j: number): number {
    return this.data[i][j];
  }

  set(i: number, j: number, value: number): void {
    this.data[i][j] = value;
  }

  transpose(): Matrix {
    return Matrix.filled(this.columns, this.rows, (i, j) => this.data[j][i]);
  }

  mmul(other: Matrix): Matrix {
    const column = new Float64Array(this.columns);
    const result = new Matrix(this.rows, other.columns);
    for (let j = 0; j < other.columns; j++) {
      for (let k = 0; k < this.columns; k++) column[k] = other.get(k, j);
      for (let i = 0; i < this.rows; i++) result.set(i, j, dot(this.data[i], column));
    }
    return result;
  }

  /** this · diag(scale) · thisᵀ */
  mmulByTranspose(scale: ArrayLike<number>): Matrix {
    const result = new Matrix(this.rows, this.rows);
    for (let j = 0; j < this.rows; j++) {
      const row = this.data[j].map((value, k) => scale[k] * value);
      for (let i = j; i < this.rows; i++) {
        const sum = dot(this.data[i], row);
        result.set(i, j, sum);
        result.set(j, i, sum);
      }
    }
    return result;
  }

  /** Divides each row by its own number, in place. */
  scale(_by: "row", { scale }: { readonly scale: ArrayLike<number> }): this {
    this.data.forEach((row, i) => {
      for (let j = 0; j < row.length; j++) row[j] /= scale[i];
    });
    return this;
  }

  /** In place. */
  mul(factor: number): this {
    for (const row of this.data) for (let j = 0; j < row.length; j++) row[j] *= factor;
    return this;
  }

  /** In place. */
  add(other: Matrix): this {
    this.data.forEach((row, i) => {
      for (let j = 0; j < row.length; j++) row[j] += other.get(i, j);
    });
    return this;
  }
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k] * b[k];
  return sum;
}

export class CholeskyDecomposition {
  private readonly lower: Matrix;
  private readonly positive: boolean;

  constructor(a: Matrix) {
    const size = a.rows;
    const lower = new Matrix(size, size);
    let positive = true;
    for (let i = 0; i < size; i++)
      for (let j = 0; j <= i; j++) if (a.get(i, j) !== a.get(j, i)) throw new Error("Matrix is not symmetric");
    for (let j = 0; j < size; j++) {
      let d = 0;
      for (let k = 0; k < j; k++) {
        let sum = 0;
        for (let i = 0; i < k; i++) sum += lower.get(k, i) * lower.get(j, i);
        sum = (a.get(j, k) - sum) / lower.get(k, k);
        lower.set(j, k, sum);
        d = d + sum * sum;
      }
      d = a.get(j, j) - d;
      positive &&= d > 0;
      lower.set(j, j, Math.sqrt(Math.max(d, 0)));
    }
    this.lower = lower;
    this.positive = positive;
  }

  isPositiveDefinite(): boolean {
    return this.positive;
  }

  solve(value: Matrix): Matrix {
    const { lower } = this;
    const size = lower.rows;
    const count = value.columns;
    const x = Matrix.filled(size, count, (i, j) => value.get(i, j));
    for (let k = 0; k < size; k++)
      for (let j = 0; j < count; j++) {
        for (let i = 0; i < k; i++) x.set(k, j, x.get(k, j) - x.get(i, j) * lower.get(k, i));
        x.set(k, j, x.get(k, j) / lower.get(k, k));
      }
    for (let k = size - 1; k >= 0; k--)
      for (let j = 0; j < count; j++) {
        for (let i = k + 1; i < size; i++) x.set(k, j, x.get(k, j) - x.get(i, j) * lower.get(i, k));
        x.set(k, j, x.get(k, j) / lower.get(k, k));
      }
    return x;
  }
}

/** By triangles with pivots (Crout). @throws Error where there is none */
export function inverse(matrix: Matrix): Matrix {
  const size = matrix.rows;
  const lu = Matrix.filled(size, size, (i, j) => matrix.get(i, j));
  const pivots = Array.from({ length: size }, (_, i) => i);
  const column = new Float64Array(size);
  for (let j = 0; j < size; j++) {
    for (let i = 0; i < size; i++) column[i] = lu.get(i, j);
    for (let i = 0; i < size; i++) {
      let sum = 0;
      for (let k = 0; k < Math.min(i, j); k++) sum += lu.get(i, k) * column[k];
      column[i] -= sum;
      lu.set(i, j, column[i]);
    }
    let p = j;
    for (let i = j + 1; i < size; i++) if (Math.abs(column[i]) > Math.abs(column[p])) p = i;
    if (p !== j) {
      for (let k = 0; k < size; k++) {
        const kept = lu.get(p, k);
        lu.set(p, k, lu.get(j, k));
        lu.set(j, k, kept);
      }
      [pivots[p], pivots[j]] = [pivots[j], pivots[p]];
    }
    if (lu.get(j, j) !== 0) for (let i = j + 1; i < size; i++) lu.set(i, j, lu.get(i, j) / lu.get(j, j));
  }
  for (let j = 0; j < size; j++) if (lu.get(j, j) === 0) throw new Error("LU matrix is singular");
  const x = Matrix.filled(size, size, (i, j) => (pivots[i] === j ? 1 : 0));
  for (let k = 0; k < size; k++)
    for (let i = k + 1; i < size; i++)
      for (let j = 0; j < size; j++) x.set(i, j, x.get(i, j) - x.get(k, j) * lu.get(i, k));
  for (let k = size - 1; k >= 0; k--) {
    for (let j = 0; j < size; j++) x.set(k, j, x.get(k, j) / lu.get(k, k));
    for (let i = 0; i < k; i++) for (let j = 0; j < size; j++) x.set(i, j, x.get(i, j) - x.get(k, j) * lu.get(i, k));
  }
  return x;
}
