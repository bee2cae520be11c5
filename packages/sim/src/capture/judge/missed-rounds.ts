import { straightThrough, sumOfSquares } from "./straight.ts";
import type { Measured } from "./types.ts";

/** Trips that tell the period, and into how many parts the shortest time between two is divided at most. */
const MOST_TRIPS = 200;
const MOST_PARTS = 6;
/** Steps of the search in which the last trip moves by a sample interval. */
const FINE = 4;

/**
 * The period of which all times between trips are whole multiples, where some rounds may have left no sample: the longest one that leaves each trip within `timing` of its
 * place, by least squares, up to the longest that does. Every whole part of it would do as well, so it is told as at most so long.
 *
 * @returns null where nothing is common to them
 */
export function commonPeriod(
  times: readonly number[],
  timing: number,
): (Measured & { readonly rounds: number }) | null {
  const own = times.slice(0, MOST_TRIPS).map((time) => time - times[0]);
  const span = own[own.length - 1];
  const shortest = own.slice(1).reduce((least, time, k) => Math.min(least, time - own[k]), Infinity);
  for (let parts = 1; parts <= MOST_PARTS; parts++) {
    const about = shortest / parts;
    const step = timing / parts / Math.max(1, FINE * (span / about));
    let best: { period: number; off: number; left: number } | null = null;
    let longest = 0;
    for (let period = about - timing / parts; period <= about + timing / parts; period += step) {
      if (!(period > 0)) continue;
      const fitted = fitOf(own, period);
      if (fitted.most > timing) continue;
      longest = Math.max(longest, period, fitted.period);
      if (best === null || fitted.left < best.left) best = fitted;
    }
    if (best === null) continue;
    const { period, off, left } = best;
    const sigma = Math.max(left, timing / Math.sqrt(12));
    return {
      value: period,
      plusMinus: Math.max(2 * sigma * off, longest - period),
      rounds: Math.round((times[times.length - 1] - times[0]) / period),
    };
  }
  return null;
}

/** A straight line through the times over the numbers of their rounds; `off`: its slope's standard deviation for times of 1, `left`: what is left of them, `most`: the largest. */
function fitOf(times: readonly number[], period: number) {
  const rounds = times.map((time) => Math.round(time / period));
  const { slope, off, rest } = straightThrough(rounds, times);
  return {
    period: slope,
    off,
    left: Math.sqrt(sumOfSquares(rest) / Math.max(1, times.length - 2)),
    most: rest.reduce((most, each) => Math.max(most, Math.abs(each)), 0),
  };
}
