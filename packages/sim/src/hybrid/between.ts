import type { Interval } from "./interval.ts";

/** A probe that straight lines between rows are to follow, and by how much they may miss it. */
export interface Followed {
  readonly probe: number;
  readonly within: number;
}

/** Rows that half a piece is given at most. */
const MOST = 200;
/** Place of the outer looks, the middle at 0 and the ends at ±1. */
const OUTER = Math.sqrt(0.6);

/**
 * Instants between the ends and the middle of a piece at which rows are wanted: a chord misses a curve by its second derivative times the square of its length over 8 at most. The
 * derivative is that of the polynomial through the five looks, so that nobody looks once more only to find that nothing bends; it is taken at the middle, half-way and the end of each
 * half, between which it may be a quarter larger.
 */
export function instantsBetween({ looks, from, to }: Interval, followed: readonly Followed[]): number[] {
  let [before, after] = [1, 1];
  for (const { probe, within } of followed) {
    const [a, b, c, d, e] = looks.map((look) => look[probe]);
    const even = (a + e) / 2 - c;
    const fourth = (even - ((b + d) / 2 - c) / 0.6) / 0.4;
    const third = ((e - a) / 2 - (d - b) / (2 * OUTER)) / 0.4;
    const bend = (x: number): number => Math.abs(2 * (even - fourth) + 6 * third * x + 12 * fourth * x * x);
    const pieces = (side: number): number =>
      Math.ceil(Math.sqrt(Math.max(bend(0), bend(side / 2), bend(side)) / (8 * within)));
    before = Math.max(before, pieces(-1));
    after = Math.max(after, pieces(1));
  }
  const half = (to - from) / 2;
  return [before, after].flatMap((pieces, side) => {
    const count = Math.min(MOST, pieces);
    return Array.from({ length: count - 1 }, (_, k) => from + half * (side + (k + 1) / count));
  });
}
