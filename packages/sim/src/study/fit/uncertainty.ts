import type { Channel } from "./channels.ts";
import type { Pair } from "./held.ts";
import { inverseOf, normalMatrix, product, studentT } from "./matrix.ts";
import type { Found, Ground } from "./search.ts";

/** How sure each of what was moved is. */
export interface Uncertainty {
  /** Standard errors, in the order of `all`; infinite for values that the capture says nothing about. */
  readonly errors: readonly number[];
  /** Coefficients of correlation of what was moved. */
  readonly correlation: (a: number, b: number) => number;
  /** So many standard errors to both sides hold 95 %. */
  readonly factor: number;
}

/**
 * Covariance at the best values: H⁻¹·M·H⁻¹ with H = JᵀJ (Seber and Wild, "Nonlinear Regression", 1989, 2.1.2 and 12.2). M counts what the residuals really scatter by, channel by channel,
 * and what rounding to steps leaves in common in all samples of one step. Bounds count as knowledge: a value lies in them, evenly.
 *
 * @param scatter standard deviation of each channel's residuals, in units of what was expected
 */
export function uncertaintyOf(
  { channels, varied, pairs }: Ground,
  { jacobian, residuals }: Found,
  scatter: readonly number[],
): Uncertainty {
  const moved = jacobian.flatMap((column, k) => (column === null ? [] : [k]));
  const columns = moved.map((k) => jacobian[k] ?? new Float64Array(residuals.length));
  const weights = new Float64Array(residuals.length).fill(1);
  let row = 0;
  for (const [c, { places }] of channels.entries()) {
    weights.fill(scatter[c] ** 2, row, row + places.length);
    row += places.length;
  }
  const instants = instantsOf(channels, pairs);
  for (const rows of instants.values()) for (const each of rows) weights[each.row] = 0;
  const known = moved.map((k) => (k < varied.length ? 12 / (varied[k].high - varied[k].low) ** 2 : 0));
  const withBounds = (matrix: number[][]): number[][] => {
    for (const [j, each] of known.entries()) matrix[j][j] += each + 1e-30;
    return matrix;
  };
  const inverse = inverseOf(withBounds(normalMatrix(columns, () => 1)));
  const free = Math.max(1, residuals.length - moved.length);
  const factor = studentT(free);
  if (inverse === null) return { errors: jacobian.map(() => Number.POSITIVE_INFINITY), correlation: () => 0, factor };
  const middle = withBounds(normalMatrix(columns, (i) => weights[i]));
  for (const rows of instants.values()) {
    const sum = columns.map((column) => rows.reduce((total, each) => total + each.sign * column[each.row], 0));
    addProduct(middle, sum);
  }
  addCommon(middle, columns, channels);
  const covariance = product(product(inverse, middle), inverse);
  const at = new Map(moved.map((k, j) => [k, j]));
  const errors = jacobian.map((_, k) => {
    const j = at.get(k);
    return j === undefined ? Number.POSITIVE_INFINITY : Math.sqrt(Math.max(0, covariance[j][j]));
  });
  return {
    errors,
    factor,
    correlation: (a, b) => {
      const [i, j] = [at.get(a), at.get(b)];
      return i === undefined || j === undefined ? 0 : covariance[i][j] / Math.sqrt(covariance[i][i] * covariance[j][j]);
    },
  };
}

/** Samples that show one and the same step of the instrument share what was rounded away. */
function addCommon(middle: number[][], columns: readonly Float64Array[], channels: readonly Channel[]): void {
  let row = 0;
  for (const { places, offs, curve, quantum, common } of channels) {
    const sums = new Map<number, number[]>();
    for (let k = 0; common > 0 && k < places.length; k++) {
      const step = Math.round(curve.values[places[k]] / quantum);
      const sum = sums.get(step) ?? columns.map(() => 0);
      for (const [j, column] of columns.entries()) sum[j] += (column[row + k] * common) / offs[k];
      sums.set(step, sum);
    }
    for (const sum of sums.values()) addProduct(middle, sum);
    row += places.length;
  }
}

function addProduct(middle: number[][], sum: readonly number[]): void {
  for (const [a, x] of sum.entries()) for (const [b, y] of sum.entries()) middle[a][b] += x * y;
}

interface RowOfInstant {
  readonly row: number;
  readonly sign: number;
}

/**
 * Rows whose error is a time between two samples. It is the same in all channels; and where a line goes round and round, samples may fall alike in every round, so the
 * errors of steps of one kind are added, not their squares (JCGM 100:2008, 5.2.2, note 1).
 */
function instantsOf(channels: readonly Channel[], pairs: readonly Pair[]): Map<string, RowOfInstant[]> {
  const found = new Map<string, RowOfInstant[]>();
  const add = (kind: string, entry: RowOfInstant): void => {
    const known = found.get(kind);
    if (known === undefined) found.set(kind, [entry]);
    else known.push(entry);
  };
  let row = 0;
  for (const { places, stepSigns } of channels) {
    for (let k = 0; k < places.length; k++)
      if (stepSigns[k] !== 0) add(`step ${stepSigns[k]}`, { row: row + k, sign: stepSigns[k] });
    row += places.length;
  }
  for (const { edge } of pairs) if (edge.isSteep) add(`edge ${edge.sign}`, { row: row++, sign: 1 });
  return found;
}
