import { zeros } from "./vector.ts";

/** Rounds of QR that one eigenvalue may take; most take two or three. */
const MOST_ROUNDS = 60;

/**
 * All eigenvalues of a small dense matrix: balanced by powers of two, brought to Hessenberg form by elimination, then Francis's implicitly shifted
 * QR steps (Golub & Van Loan, Matrix Computations, sections 7.4 and 7.5). Nothing is allocated after construction.
 */
export class Eigenvalues {
  readonly size: number;
  /** Row by row; the caller fills it, and finding destroys it. */
  readonly matrix: number[];
  readonly real: number[];
  readonly imaginary: number[];

  constructor(size: number) {
    this.size = size;
    this.matrix = zeros(size * size);
    this.real = zeros(size);
    this.imaginary = zeros(size);
  }

  /** Writes `real` and `imaginary`; false where an entry is not finite or the rounds do not converge. */
  find(): boolean {
    const { matrix } = this;
    for (let k = 0; k < matrix.length; k++) if (matrix[k] - matrix[k] !== 0) return false;
    this.balance();
    this.reduce();
    return this.deflate();
  }

  /** Makes the sums of each row and its column alike: errors are then small beside each entry and not only beside the largest. */
  private balance(): void {
    const { size: n, matrix: a } = this;
    for (let changed = true; changed; ) {
      changed = false;
      for (let i = 0; i < n; i++) {
        let column = 0;
        let row = 0;
        for (let j = 0; j < n; j++) {
          if (j === i) continue;
          column += Math.abs(a[j * n + i]);
          row += Math.abs(a[i * n + j]);
        }
        if (!(column > 0 && row > 0)) continue;
        const factor = 2 ** Math.round(0.5 * Math.log2(row / column));
        if (factor === 1 || column * factor + row / factor >= 0.95 * (column + row)) continue;
        changed = true;
        for (let j = 0; j < n; j++) a[i * n + j] /= factor;
        for (let j = 0; j < n; j++) a[j * n + i] *= factor;
      }
    }
  }

  private reduce(): void {
    const { size: n, matrix: a } = this;
    for (let m = 1; m < n - 1; m++) {
      let pivot = m;
      for (let i = m + 1; i < n; i++) if (Math.abs(a[i * n + m - 1]) > Math.abs(a[pivot * n + m - 1])) pivot = i;
      if (a[pivot * n + m - 1] === 0) continue;
      if (pivot !== m) {
        for (let j = m - 1; j < n; j++) swap(a, pivot * n + j, m * n + j);
        for (let j = 0; j < n; j++) swap(a, j * n + pivot, j * n + m);
      }
      for (let i = m + 1; i < n; i++) {
        const factor = a[i * n + m - 1] / a[m * n + m - 1];
        if (factor === 0) continue;
        a[i * n + m - 1] = 0;
        for (let j = m; j < n; j++) a[i * n + j] -= factor * a[m * n + j];
        for (let j = 0; j < n; j++) a[j * n + m] += factor * a[j * n + i];
      }
    }
  }

  /** From the last row upwards: what has come apart from the rest gives one eigenvalue or two. */
  private deflate(): boolean {
    const { size: n, matrix: a } = this;
    let norm = 0;
    for (let k = 0; k < a.length; k++) norm += Math.abs(a[k]);
    let rounds = 0;
    for (let high = n - 1; high >= 0; ) {
      let low = high;
      for (; low > 0; low--) {
        const beside = Math.abs(a[low * n + low]) + Math.abs(a[(low - 1) * n + low - 1]);
        if (Math.abs(a[low * n + low - 1]) > Number.EPSILON * (beside > 0 ? beside : norm)) continue;
        a[low * n + low - 1] = 0;
        break;
      }
      if (low === high) {
        this.real[high] = a[high * n + high];
        this.imaginary[high] = 0;
        high--;
        rounds = 0;
      } else if (low === high - 1) {
        this.pair(high);
        high -= 2;
        rounds = 0;
      } else {
        if (++rounds > MOST_ROUNDS) return false;
        this.sweep(low, high, rounds % 10 === 0);
      }
    }
    return true;
  }

  private pair(high: number): void {
    const { size: n, matrix: a, real, imaginary } = this;
    const low = high - 1;
    const half = 0.5 * (a[low * n + low] - a[high * n + high]);
    const product = a[low * n + high] * a[high * n + low];
    const square = half * half + product;
    const root = Math.sqrt(Math.abs(square));
    if (square < 0) {
      real[low] = a[high * n + high] + half;
      real[high] = real[low];
      imaginary[low] = root;
      imaginary[high] = -root;
      return;
    }
    const far = half < 0 ? half - root : half + root;
    real[low] = a[high * n + high] + far;
    real[high] = far === 0 ? real[low] : a[high * n + high] - product / far;
    imaginary[low] = 0;
    imaginary[high] = 0;
  }

  /** One double step by the two eigenvalues of the last corner, or, now and then, by others that break a circle. */
  private sweep(low: number, high: number, unusual: boolean): void {
    const { size: n, matrix: a } = this;
    const at = (row: number, column: number) => a[row * n + column];
    let sum = at(high - 1, high - 1) + at(high, high);
    let product = at(high - 1, high - 1) * at(high, high) - at(high - 1, high) * at(high, high - 1);
    if (unusual) {
      const size = Math.abs(at(high, high - 1)) + Math.abs(at(high - 1, high - 2));
      sum = 1.5 * size;
      product = size * size;
    }
    let x = at(low, low) * (at(low, low) - sum) + at(low, low + 1) * at(low + 1, low) + product;
    let y = at(low + 1, low) * (at(low, low) + at(low + 1, low + 1) - sum);
    let z = at(low + 2, low + 1) * at(low + 1, low);
    for (let k = low; k < high; k++) {
      const three = k < high - 1;
      if (!three) z = 0;
      const largest = Math.max(Math.abs(x), Math.abs(y), Math.abs(z));
      if (largest > 0) {
        x /= largest;
        y /= largest;
        z /= largest;
        const length = (x < 0 ? -1 : 1) * Math.sqrt(x * x + y * y + z * z);
        const first = x + length;
        const [v, w, beta] = [y / first, z / first, first / length];
        for (let j = Math.max(k - 1, low); j <= high; j++) {
          const part = beta * (at(k, j) + v * at(k + 1, j) + (three ? w * at(k + 2, j) : 0));
          a[k * n + j] -= part;
          a[(k + 1) * n + j] -= v * part;
          if (three) a[(k + 2) * n + j] -= w * part;
        }
        for (let i = low; i <= Math.min(k + 3, high); i++) {
          const part = beta * (at(i, k) + v * at(i, k + 1) + (three ? w * at(i, k + 2) : 0));
          a[i * n + k] -= part;
          a[i * n + k + 1] -= v * part;
          if (three) a[i * n + k + 2] -= w * part;
        }
        if (k > low) {
          a[(k + 1) * n + k - 1] = 0;
          if (three) a[(k + 2) * n + k - 1] = 0;
        }
      }
      x = at(k + 1, k);
      y = k + 2 <= high ? at(k + 2, k) : 0;
      z = k + 3 <= high ? at(k + 3, k) : 0;
    }
  }
}

function swap(a: number[], i: number, j: number): void {
  const kept = a[i];
  a[i] = a[j];
  a[j] = kept;
}
