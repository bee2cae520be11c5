import type { Tableau } from "./tableau.ts";
import { type Vector, zeros } from "./vector.ts";

/** Room for the stages of one state; coefficients are filled up with zeros to it. */
const STAGES = 8;

/** What stands in a state's row behind its stages: its value at both ends of the step, the sum of the moment, and the dense output's h. */
const START = STAGES;
const END = START + 1;
const SUM = END + 1;
const DENSE = SUM + 1;
const WIDTH = DENSE + 3;

/**
 * A step of a Rosenbrock method, state by state: its stages and all that is summed up from them. What belongs to a state stands side by side, and
 * each sum is written out, so a stage reads what it needs once and from one array: these sums are the largest part of a step on a small system.
 */
export class Stages {
  readonly count: number = 0;
  private readonly size: number = 0;
  /** k_j of state i stands at WIDTH·i + j. */
  private readonly rows: number[];
  private readonly a: readonly number[];
  private readonly C: readonly number[];
  private readonly H: readonly number[];
  /** Stages whose state is the one before plus its k: the last ones of stiffly accurate methods. */
  private readonly continues: readonly boolean[];

  constructor(tableau: Tableau, size: number) {
    const { a, C, H, c } = tableau;
    if (c.length > STAGES || H.length > 3)
      throw new RangeError(`${tableau.name} has more stages than there is room for`);
    this.count = c.length;
    this.size = size;
    this.rows = zeros(WIDTH * size);
    this.a = padded(a);
    this.C = padded(C);
    this.H = padded([...H, [], [], []].slice(0, 3));
    this.continues = a.map((row, s) => s > 1 && row[s - 1] === 1 && a[s - 1].every((value, j) => value === row[j]));
  }

  /** A step begins at y. */
  open(y: Vector): void {
    const { rows, size } = this;
    for (let i = 0, p = START; i < size; i++, p += WIDTH) rows[p] = y[i];
  }

  /** Forgets what an attempt left behind that was no number. */
  clear(): void {
    const { rows, size } = this;
    for (let i = 0, p = 0; i < size; i++, p += WIDTH) for (let j = 0; j < STAGES; j++) rows[p + j] = 0;
  }

  /**
   * Keeps `last`, the solution of stage s − 1, and forms what stage s needs of all before: its state into `at`, and `scale`·sum C_sj k_j, which
   * `addSum` adds.
   */
  combine(s: number, last: Vector, scale: number, at: Vector): void {
    if (this.continues[s]) this.carryOn(s, last, scale, at);
    else if (s <= 2) this.combineTwo(s, last, scale, at);
    else if (s <= 4) this.combineFour(s, last, scale, at);
    else this.combineAll(s, last, scale, at);
  }

  /** Adds to a right side what `combine` has summed up for it. */
  addSum(right: Vector): void {
    const { rows, size } = this;
    for (let i = 0, p = SUM; i < size; i++, p += WIDTH) right[i] += rows[p];
  }

  /** The same where rates depend on the time itself. */
  addTimedSum(right: Vector, weight: number, slopes: Vector): void {
    const { rows, size } = this;
    for (let i = 0, p = SUM; i < size; i++, p += WIDTH) right[i] += rows[p] + weight * slopes[i];
  }

  /** Keeps the solution of the last stage and adds it to `at`, which then is the state at the end. */
  close(last: Vector, at: Vector): void {
    const { rows, size, count } = this;
    for (let i = 0, p = 0; i < size; i++, p += WIDTH) {
      const own = last[i];
      const end = at[i] + own;
      rows[p + count - 1] = own;
      rows[p + END] = end;
      at[i] = end;
    }
  }

  /** How large the last solution is by the tolerance of each state; infinite where it is no number. */
  errorOf(last: Vector, floor: Vector, relative: number): number {
    const { rows, size } = this;
    let worst = 0;
    let sum = 0;
    for (let i = 0, p = 0; i < size; i++, p += WIDTH) {
      const scale = floor[i] + relative * Math.max(Math.abs(rows[p + START]), Math.abs(rows[p + END]));
      const ratio = Math.abs(last[i]) / scale;
      if (!(ratio < 1e100)) return Number.POSITIVE_INFINITY;
      if (ratio > worst) worst = ratio;
      sum += ratio * ratio;
    }
    // Between the largest component and the root mean square: one state alone may not hide among quiet ones.
    return Math.max(0.3 * worst, Math.sqrt(sum / size));
  }

  private combineTwo(s: number, last: Vector, scale: number, at: Vector): void {
    const { rows, a, C, size } = this;
    const o = STAGES * s;
    const a0 = a[o];
    const a1 = a[o + 1];
    const c0 = scale * C[o];
    const c1 = scale * C[o + 1];
    for (let i = 0, p = 0; i < size; i++, p += WIDTH) {
      rows[p + s - 1] = last[i];
      const k0 = rows[p];
      const k1 = rows[p + 1];
      at[i] = rows[p + START] + (a0 * k0 + a1 * k1);
      rows[p + SUM] = c0 * k0 + c1 * k1;
    }
  }

  private combineFour(s: number, last: Vector, scale: number, at: Vector): void {
    const { rows, a, C, size } = this;
    const o = STAGES * s;
    const a0 = a[o];
    const a1 = a[o + 1];
    const a2 = a[o + 2];
    const a3 = a[o + 3];
    const c0 = scale * C[o];
    const c1 = scale * C[o + 1];
    const c2 = scale * C[o + 2];
    const c3 = scale * C[o + 3];
    for (let i = 0, p = 0; i < size; i++, p += WIDTH) {
      rows[p + s - 1] = last[i];
      const k0 = rows[p];
      const k1 = rows[p + 1];
      const k2 = rows[p + 2];
      const k3 = rows[p + 3];
      at[i] = rows[p + START] + (a0 * k0 + a1 * k1 + a2 * k2 + a3 * k3);
      rows[p + SUM] = c0 * k0 + c1 * k1 + c2 * k2 + c3 * k3;
    }
  }

  private combineAll(s: number, last: Vector, scale: number, at: Vector): void {
    const { rows, a, C, size } = this;
    const o = STAGES * s;
    const a0 = a[o];
    const a1 = a[o + 1];
    const a2 = a[o + 2];
    const a3 = a[o + 3];
    const a4 = a[o + 4];
    const a5 = a[o + 5];
    const a6 = a[o + 6];
    const c0 = scale * C[o];
    const c1 = scale * C[o + 1];
    const c2 = scale * C[o + 2];
    const c3 = scale * C[o + 3];
    const c4 = scale * C[o + 4];
    const c5 = scale * C[o + 5];
    const c6 = scale * C[o + 6];
    for (let i = 0, p = 0; i < size; i++, p += WIDTH) {
      rows[p + s - 1] = last[i];
      const k0 = rows[p];
      const k1 = rows[p + 1];
      const k2 = rows[p + 2];
      const k3 = rows[p + 3];
      const k4 = rows[p + 4];
      const k5 = rows[p + 5];
      const k6 = rows[p + 6];
      at[i] = rows[p + START] + (a0 * k0 + a1 * k1 + a2 * k2 + a3 * k3) + (a4 * k4 + a5 * k5 + a6 * k6);
      rows[p + SUM] = c0 * k0 + c1 * k1 + c2 * k2 + c3 * k3 + (c4 * k4 + c5 * k5 + c6 * k6);
    }
  }

  private carryOn(s: number, last: Vector, scale: number, at: Vector): void {
    const { rows, C, size } = this;
    const o = STAGES * s;
    const c0 = scale * C[o];
    const c1 = scale * C[o + 1];
    const c2 = scale * C[o + 2];
    const c3 = scale * C[o + 3];
    const c4 = scale * C[o + 4];
    const c5 = scale * C[o + 5];
    const c6 = scale * C[o + 6];
    for (let i = 0, p = 0; i < size; i++, p += WIDTH) {
      const own = last[i];
      rows[p + s - 1] = own;
      at[i] += own;
      const early = c0 * rows[p] + c1 * rows[p + 1] + c2 * rows[p + 2] + c3 * rows[p + 3];
      rows[p + SUM] = early + (c4 * rows[p + 4] + c5 * rows[p + 5] + c6 * rows[p + 6]);
    }
  }

  /** The dense output's h_1, h_2 and h_3 (zero where the method has none) for `interpolate`. */
  prepareDense(): void {
    for (let m = 0; m < 3; m++) this.weigh(STAGES * m, DENSE + m);
  }

  /** The sum of all stages with the dense output's weights that begin at `o`, into `place` of each row. */
  private weigh(o: number, place: number): void {
    const { rows, H, size } = this;
    const w0 = H[o];
    const w1 = H[o + 1];
    const w2 = H[o + 2];
    const w3 = H[o + 3];
    const w4 = H[o + 4];
    const w5 = H[o + 5];
    const w6 = H[o + 6];
    const w7 = H[o + 7];
    for (let i = 0, p = 0; i < size; i++, p += WIDTH) {
      const early = w0 * rows[p] + w1 * rows[p + 1] + w2 * rows[p + 2] + w3 * rows[p + 3];
      rows[p + place] = early + (w4 * rows[p + 4] + w5 * rows[p + 5] + w6 * rows[p + 6] + w7 * rows[p + 7]);
    }
  }

  /** Writes the state at the share theta (0…1) of the step. */
  interpolate(theta: number, out: Vector): void {
    const { rows, size } = this;
    const rest = 1 - theta;
    const b1 = theta * rest;
    const b2 = theta * theta * rest;
    const b3 = theta * theta * theta * rest;
    for (let i = 0, p = 0; i < size; i++, p += WIDTH) {
      const curved = b1 * rows[p + DENSE] + b2 * rows[p + DENSE + 1] + b3 * rows[p + DENSE + 2];
      out[i] = rest * rows[p + START] + theta * rows[p + END] + curved;
    }
  }
}

function padded(rows: readonly (readonly number[])[]): number[] {
  const out = zeros(STAGES * rows.length);
  rows.forEach((row, s) => {
    row.forEach((value, j) => {
      out[STAGES * s + j] = value;
    });
  });
  return out;
}
