/** Dense linear algebra for checks: plain loops, partial pivoting, rows of plain arrays. */
export type Matrix = number[][];

export function zeros(rows: number, columns = rows): Matrix {
  return Array.from({ length: rows }, () => new Array<number>(columns).fill(0));
}

function identity(n: number): Matrix {
  return zeros(n).map((row, i) => row.map((_, j) => (i === j ? 1 : 0)));
}

export function multiply(a: Matrix, b: Matrix): Matrix {
  return a.map((row) => b[0].map((_, j) => row.reduce((sum, value, k) => sum + value * b[k][j], 0)));
}

export function apply(a: Matrix, x: ArrayLike<number>): number[] {
  return a.map((row) => row.reduce((sum, value, k) => sum + value * x[k], 0));
}

/** Solves a·x = b; both stay as they are. */
export function solveDense(a: Matrix, b: ArrayLike<number>): number[] {
  const n = a.length;
  const m = a.map((row, i) => [...row, b[i]]);
  for (let k = 0; k < n; k++) {
    let best = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(m[i][k]) > Math.abs(m[best][k])) best = i;
    [m[k], m[best]] = [m[best], m[k]];
    if (m[k][k] === 0) throw new Error("singular");
    for (let i = k + 1; i < n; i++) {
      const factor = m[i][k] / m[k][k];
      if (factor !== 0) for (let j = k; j <= n; j++) m[i][j] -= factor * m[k][j];
    }
  }
  const x = new Array<number>(n).fill(0);
  for (let i = n - 1; i >= 0; i--) {
    let sum = m[i][n];
    for (let j = i + 1; j < n; j++) sum -= m[i][j] * x[j];
    x[i] = sum / m[i][i];
  }
  return x;
}

export function inverse(a: Matrix): Matrix {
  const columns = identity(a.length).map((unit) => solveDense(a, unit));
  return columns[0].map((_, i) => columns.map((column) => column[i]));
}

/** exp(a) by scaling, a Taylor polynomial of degree 18 and squaring (Golub & Van Loan, Matrix Computations, section 9.3). */
export function expm(a: Matrix): Matrix {
  const norm = Math.max(...a.map((row) => row.reduce((sum, value) => sum + Math.abs(value), 0)));
  const squarings = Math.max(0, Math.ceil(Math.log2(Math.max(norm, 1e-300))) + 2);
  const small = a.map((row) => row.map((value) => value / 2 ** squarings));
  let sum = identity(a.length);
  let term = identity(a.length);
  for (let k = 1; k <= 18; k++) {
    term = multiply(term, small).map((row) => row.map((value) => value / k));
    sum = sum.map((row, i) => row.map((value, j) => value + term[i][j]));
  }
  for (let k = 0; k < squarings; k++) sum = multiply(sum, sum);
  return sum;
}

/** Seeded numbers between 0 and 1 (mulberry32, public domain). */
export function random(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}
