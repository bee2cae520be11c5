import type { Tableau } from "./tableau.ts";
import { type Vector, zeros } from "./vector.ts";

/** Room for the stages of one state; coefficients are filled up with zeros to it. */
const WIDTH = 8;

/**
 * The sums over stages of a Rosenbrock method. A state's stages stand side by side and each sum is written out, so a stage reads what it needs
 * once: these sums are the largest part of a step on a small system.
 */
export class Stages {
  readonly count: number = 0;
  private readonly size: number = 0;
  /** k_j of state i stands at 8·i + j. */
  private readonly k: number[];
  private readonly a: readonly number[];
  private readonly C: readonly number[];
  private readonly H: readonly number[];
  /** Stages whose state is the one before plus its k: the last ones of stiffly accurate methods. */
  private readonly continues: readonly boolean[];

  constructor(tableau: Tableau, size: number) {
    const { a, C, H, c } = tableau;
    if (c.length > WIDTH || H.length > 3)
      throw new RangeError(`${tableau.name} has more stages than there is room for`);
    this.count = c.length;
    this.size = size;
    this.k = zeros(WIDTH * size);
    this.a = padded(a);
    this.C = padded(C);
    this.H = padded([...H, [], [], []].slice(0, 3));
    this.continues = a.map((row, s) => s > 1 && row[s - 1] === 1 && a[s - 1].every((value, j) => value === row[j]));
  }

  /** Forgets what an attempt left behind that was no number. */
  clear(): void {
    for (let p = 0; p < this.k.length; p++) this.k[p] = 0;
  }

  /** Keeps the solution of the last stage. */
  close(last: Vector): void {
    const { k, size, count } = this;
    for (let i = 0, p = count - 1; i < size; i++, p += WIDTH) k[p] = last[i];
  }

  /**
   * Keeps `last`, the solution of stage s − 1, and forms what stage s needs of all before: its state into `at`, and `scale`·sum C_sj k_j into `sum`.
   */
  combine(s: number, y: Vector, last: Vector, scale: number, at: Vector, sum: Vector): void {
    if (this.continues[s]) this.carryOn(s, last, scale, at, sum);
    else if (s <= 2) this.combineTwo(s, y, last, scale, at, sum);
    else if (s <= 4) this.combineFour(s, y, last, scale, at, sum);
    else this.combineAll(s, y, last, scale, at, sum);
  }

  private combineTwo(s: number, y: Vector, last: Vector, scale: number, at: Vector, sum: Vector) {
    const { k, a, C, size } = this;
    const o = WIDTH * s;
    const a0 = a[o];
    const a1 = a[o + 1];
    const c0 = scale * C[o];
    const c1 = scale * C[o + 1];
    for (let i = 0, p = 0; i < size; i++, p += WIDTH) {
      k[p + s - 1] = last[i];
      const k0 = k[p];
      const k1 = k[p + 1];
      at[i] = y[i] + (a0 * k0 + a1 * k1);
      sum[i] = c0 * k0 + c1 * k1;
    }
  }

  private combineFour(s: number, y: Vector, last: Vector, scale: number, at: Vector, sum: Vector) {
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
      k[p + s - 1] = last[i];
      const k0 = k[p];
      const k1 = k[p + 1];
      const k2 = k[p + 2];
      const k3 = k[p + 3];
      at[i] = y[i] + (a0 * k0 + a1 * k1 + a2 * k2 + a3 * k3);
      sum[i] = c0 * k0 + c1 * k1 + c2 * k2 + c3 * k3;
    }
  }

  private combineAll(s: number, y: Vector, last: Vector, scale: number, at: Vector, sum: Vector) {
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
      k[p + s - 1] = last[i];
      at[i] =
        y[i] +
        (a0 * k[p] + a1 * k[p + 1] + a2 * k[p + 2] + a3 * k[p + 3]) +
        (a4 * k[p + 4] + a5 * k[p + 5] + a6 * k[p + 6]);
    }
    this.weigh(this.C, o, scale, sum);
  }

  private carryOn(s: number, last: Vector, scale: number, at: Vector, sum: Vector): void {
    const { k, size } = this;
    for (let i = 0, p = s - 1; i < size; i++, p += WIDTH) {
      const own = last[i];
      k[p] = own;
      at[i] += own;
    }
    this.weigh(this.C, WIDTH * s, scale, sum);
  }

  /** `scale` times the sum of all stages with the weights that begin at `o`. */
  private weigh(weights: readonly number[], o: number, scale: number, out: Vector): void {
    const { k, size } = this;
    const w0 = scale * weights[o];
    const w1 = scale * weights[o + 1];
    const w2 = scale * weights[o + 2];
    const w3 = scale * weights[o + 3];
    const w4 = scale * weights[o + 4];
    const w5 = scale * weights[o + 5];
    const w6 = scale * weights[o + 6];
    const w7 = scale * weights[o + 7];
    for (let i = 0, p = 0; i < size; i++, p += WIDTH) {
      const early = w0 * k[p] + w1 * k[p + 1] + w2 * k[p + 2] + w3 * k[p + 3];
      out[i] = early + (w4 * k[p + 4] + w5 * k[p + 5] + w6 * k[p + 6] + w7 * k[p + 7]);
    }
  }

  /** The dense output's h_1, h_2 and h_3 (zero where the method has none). */
  dense(h1: Vector, h2: Vector, h3: Vector): void {
    this.weigh(this.H, 0, 1, h1);
    this.weigh(this.H, WIDTH, 1, h2);
    this.weigh(this.H, 2 * WIDTH, 1, h3);
  }
}

function padded(rows: readonly (readonly number[])[]): number[] {
  const out = zeros(WIDTH * rows.length);
  rows.forEach((row, s) => {
    row.forEach((value, j) => {
      out[WIDTH * s + j] = value;
    });
  });
  return out;
}
