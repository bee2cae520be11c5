import type { Matrix } from "./matrix.ts";

/** Steps to both sides until a slice's end is found. */
const MOST_OUT = 12;
const MOST_IN = 60;
/** A slice is first taken as so many standard deviations wide. */
const WIDTH = 3;

export interface Walk {
  /** Logarithm of a density, up to what is the same everywhere; −∞ where it is nothing. */
  readonly density: (at: Float64Array) => number;
  /** Columns of a triangular factor of about its covariance: along them it is walked. */
  readonly factor: Matrix;
  /** The next number, drawn evenly between 0 and 1. */
  readonly next: () => number;
}

/**
 * Walks through a density by slices, one after the other along each column of the factor, and tells where it stood after each round (Neal, Ann. Stat. 31, 2003, 705–767,
 * with stepping out and shrinking). It knows walls, needs no tuning, and the factor decides how fast it gets about, never where it gets to.
 *
 * @param heat by what the logarithm is divided in round r: above 1 lets it cross what is unlikely, before anything counts
 */
export function walk(
  { density, factor, next }: Walk,
  start: Float64Array,
  rounds: number,
  heat: (round: number) => number = () => 1,
): Float64Array[] {
  const count = start.length;
  let at = Float64Array.from(start);
  let now = density(at);
  const out: Float64Array[] = [];
  const trial = new Float64Array(count);
  for (let round = 0; round < rounds; round++) {
    const hot = heat(round);
    for (let d = 0; d < count; d++) {
      const go = (by: number): number => {
        for (let i = 0; i < count; i++) trial[i] = at[i] + by * factor[i][d];
        return density(trial);
      };
      const level = now + hot * Math.log(next());
      let low = -WIDTH * next();
      let high = low + WIDTH;
      for (let n = 0; n < MOST_OUT && go(low) > level; n++) low -= WIDTH;
      for (let n = 0; n < MOST_OUT && go(high) > level; n++) high += WIDTH;
      for (let n = 0; n < MOST_IN; n++) {
        const by = low + next() * (high - low);
        const then = go(by);
        if (then > level) {
          at = Float64Array.from(trial);
          now = then;
          break;
        }
        if (by < 0) low = by;
        else high = by;
      }
    }
    out.push(at);
  }
  return out;
}

/** Mean and covariance of places. */
export function momentsOf(places: readonly Float64Array[]): { mean: Float64Array; covariance: number[][] } {
  const count = places[0].length;
  const mean = new Float64Array(count);
  for (const place of places) for (let i = 0; i < count; i++) mean[i] += place[i] / places.length;
  const covariance = Array.from({ length: count }, () => new Array<number>(count).fill(0));
  for (const place of places)
    for (let a = 0; a < count; a++)
      for (let b = 0; b < count; b++)
        covariance[a][b] += ((place[a] - mean[a]) * (place[b] - mean[b])) / Math.max(1, places.length - 1);
  return { mean, covariance };
}
