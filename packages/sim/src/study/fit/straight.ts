import type { Density, Quadratic } from "./density.ts";
import { MOST_LAG } from "./lag.ts";
import { inverseOf, triangleOf } from "./matrix.ts";
import type { Ground } from "./search.ts";

/** Between which ends one of all that is moved lies for certain. */
export function endsOf({ varied, shifts, channels }: Ground, k: number): readonly [low: number, high: number] {
  if (k < varied.length) return [varied[k].low, varied[k].high];
  if (k === varied.length + 2 * channels.length)
    return [0, MOST_LAG * Math.max(...channels.map(({ interval, every }) => interval * every))];
  return k === varied.length ? shifts : [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
}

/** The logarithm of a density as a walk asks for it: by what is moved alone. */
export function densityFor(whole: Density, moved: readonly number[], count: number): (some: Float64Array) => number {
  const change = new Float64Array(count);
  return (some) => {
    for (const [j, k] of moved.entries()) change[k] = some[j];
    return whole.at(change);
  };
}

/** What straight lines make of a density. */
export interface Straight {
  /** Where its middle lies, as a change, and its standard deviations. */
  readonly best: readonly number[];
  readonly errors: readonly number[];
  /** Of its covariance: the walk learns a better one. */
  readonly factor: number[][];
}

/** What straight lines make of the density, bounds left out of account but for their width. */
export function straightOf(ground: Ground, quadratic: Quadratic, moved: readonly number[]): Straight {
  const { a, b } = quadratic.part(moved);
  for (const [j, k] of moved.entries()) {
    const [low, high] = endsOf(ground, k);
    a[j][j] += 12 / (high - low) ** 2;
  }
  const inverse = inverseOf(a) ?? a.map((row, i) => row.map((each, j) => (i === j ? 1 / each : 0)));
  const errors = inverse.map((row, j) => Math.sqrt(row[j]));
  return {
    best: inverse.map((row) => row.reduce((sum, each, i) => sum + each * b[i], 0)),
    errors,
    factor: triangleOf(inverse) ?? errors.map((error, j) => errors.map((_, i) => (i === j ? error : 0))),
  };
}
