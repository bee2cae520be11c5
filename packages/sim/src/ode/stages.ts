import type { Tableau } from "./tableau.ts";

/** Room for the stages of one state; coefficients are filled up with zeros to it. */
const WIDTH = 8;

/**
 * The sums over stages of a Rosenbrock method. A state's stages stand side by side and each sum is written out, so a stage reads what it needs
 * once: these sums are the largest part of a step on a small system.
 */
export class Stages {
  readonly count: number;
  private readonly size: number;
  /** k_j of state i stands at 8·i + j. */
  private readonly k: Float64Array;
  private readonly a: Float64Array;
  private readonly C: Float64Array;
  private readonly H: Float64Array;
  /** Stages whose state is the one before plus its k: the last ones of stiffly accurate methods. */
  private readonly continues: readonly boolean[];

  constructor(tableau: Tableau, size: number) {
    const { a, C, H, c } = tableau;
    if (c.length > WIDTH || H.length > 3)
      throw new RangeError(`${tableau.name} has more stages than there is room for`);
    this.count = c.length;
    this.size = size;
    this.k = new Float64Array(WIDTH * size);
    this.a = padded(a);
    this.C = padded(C);
    this.H = padded([...H, [], [], []].slice(0, 3));
    this.continues = a.map((row, s) => s > 1 && row[s - 1] === 1 && a[s - 1].every((value, j) => value === row[j]));
  }

  /** Forgets what an attempt left behind that was no number. */
  clear(): void {
    this.k.fill(0);
  }

  keep(s: number, from: Float64Array): void {
    const { k, size } = this;
    for (let i = 0; i < size; i++) k[WIDTH * i + s] = from[i];
  }

  /** Of stage s: its state into `at`, and `scale`·sum C_sj k_j into `sum`. */
  combine(s: number, y: Float64Array, scale: number, at: Float64Array, sum: Float64Array): void {
    if (this.continues[s]) this.carryOn(s, scale, at, sum);
    else if (s <= 4) this.combineFour(s, y, scale, at, sum);
    else this.combineAll(s, y, scale, at, sum);
  }

  private combineFour(s: number, y: Float64Array, scale: number, at: Float64Array, sum: Float64Array): void {
    const { k, a, C, size } = this;
    const o = WIDTH * s;
    const a0 = a[o];
    const a1 = a[o + 1];
    const a2 = a[o + 2];
    const a3 = a[o + 3];
    const c0 = scale * C[o];
    const c1 = scale * C[o + 1];
    const c2 = scale * C[o + 2];
    const c3 = scale * C[o + 3];
    for (let i = 0, p = 0; i < size; i++, p += WIDTH) {
      const k0 = k[p];
      const k1 = k[p + 1];
      const k2 = k[p + 2];
      const k3 = k[p + 3];
      at[i] = y[i] + (a0 * k0 + a1 * k1 + a2 * k2 + a3 * k3);
      sum[i] = c0 * k0 + c1 * k1 + c2 * k2 + c3 * k3;
    }
  }

  private combineAll(s: number, y: Float64Array, scale: number, at: Float64Array, sum: Float64Array): void {
    const { k, a, size } = this;
    const o = WIDTH * s;
    const a0 = a[o];
    const a1 = a[o + 1];
    const a2 = a[o + 2];
    const a3 = a[o + 3];
    const a4 = a[o + 4];
    const a5 = a[o + 5];
    const a6 = a[o + 6];
    for (let i = 0, p = 0; i < size; i++, p += WIDTH) {
      at[i] =
        y[i] +
        (a0 * k[p] + a1 * k[p + 1] + a2 * k[p + 2] + a3 * k[p + 3]) +
        (a4 * k[p + 4] + a5 * k[p + 5] + a6 * k[p + 6]);
    }
    this.sumAll(s, scale, sum);
  }

  private carryOn(s: number, scale: number, at: Float64Array, sum: Float64Array): void {
    const { k, size } = this;
    for (let i = 0, p = s - 1; i < size; i++, p += WIDTH) at[i] += k[p];
    this.sumAll(s, scale, sum);
  }

  private sumAll(s: number, scale: number, sum: Float64Array): void {
    const { k, C, size } = this;
    const o = WIDTH * s;
    const c0 = scale * C[o];
    const c1 = scale * C[o + 1];
    const c2 = scale * C[o + 2];
    const c3 = scale * C[o + 3];
    const c4 = scale * C[o + 4];
    const c5 = scale * C[o + 5];
    const c6 = scale * C[o + 6];
    for (let i = 0, p = 0; i < size; i++, p += WIDTH) {
      sum[i] =
        c0 * k[p] + c1 * k[p + 1] + c2 * k[p + 2] + c3 * k[p + 3] + (c4 * k[p + 4] + c5 * k[p + 5] + c6 * k[p + 6]);
    }
  }

  /** The dense output's h_1, h_2 and h_3 (zero where the method has none). */
  dense(h1: Float64Array, h2: Float64Array, h3: Float64Array): void {
    const { k, H, size } = this;
    for (let i = 0, p = 0; i < size; i++, p += WIDTH) {
      let x1 = 0;
      let x2 = 0;
      let x3 = 0;
      for (let j = 0; j < WIDTH; j++) {
        const kj = k[p + j];
        x1 += H[j] * kj;
        x2 += H[WIDTH + j] * kj;
        x3 += H[2 * WIDTH + j] * kj;
      }
      h1[i] = x1;
      h2[i] = x2;
      h3[i] = x3;
    }
  }
}

function padded(rows: readonly (readonly number[])[]): Float64Array {
  const out = new Float64Array(WIDTH * rows.length);
  rows.forEach((row, s) => {
    out.set(row, WIDTH * s);
  });
  return out;
}
