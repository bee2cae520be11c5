import type { Channel } from "./channels.ts";
import type { Edge } from "./edges.ts";
import type { Pair } from "./held.ts";
import { oscillationOf } from "./oscillation.ts";
import type { Misfit } from "./types.ts";

/** Samples of one mean. */
const BLOCK = 8;
/** Beyond so many standard deviations, so much more than noise explains, or by Fisher's test at so small a chance, something is there. */
const SLOW = 5;
export const RATIO = 1.25;
/** A misfit that is smaller than this share of what a channel swings through is nothing that a person could use: models of parts are no better. */
const LEAST_SHARE = 0.002;

/**
 * Whether what is left is noise. `left`: capture less run at the channel's places, V or A.
 *
 * Three looks, for no one of them sees everything: its size against what steps and noise explain; means over some samples, in which noise averages out and a slow
 * misfit does not; and Fisher's test for an oscillation (Proc. R. Soc. A 125, 1929, 54–59: the largest of n ordinates has a share above x of their sum with a
 * chance of n·(1 − x)^(n−1) at most). Beside them the number of runs of one sign (Wald and Wolfowitz, Ann. Math. Stat. 11, 1940, 147–162).
 */
export function misfitOf(
  channel: Channel,
  left: Float64Array,
  times: Float64Array,
  edge: Misfit["edge"] = null,
  events: readonly number[] = [],
): Misfit {
  const { off, common, offs, span } = channel;
  const usual = Array.from(left.keys()).filter((i) => offs[i] < 1.001 * off);
  const values = Float64Array.from(usual, (i) => left[i]);
  const rms = Math.sqrt(meanOf(values.map((each) => each * each)));
  const ratio = rms / off;
  const { slow, worst } = slowPart(values, rms, common);
  const { isThere, ripple } = oscillationOf(left, times, { rms, off, common, ordinary: new Set(usual) });
  const isLarge = rms > LEAST_SHARE * span;
  return {
    rms,
    ratio,
    runs: runsOf(values),
    slow,
    ripple,
    edge,
    worst: times[usual[worst] ?? 0] ?? 0,
    isBeyondNoise: (ratio > RATIO && isLarge) || (slow > SLOW && isLarge) || isThere || edge !== null,
    isAtEvents:
      atEvents(
        values,
        Float64Array.from(usual, (i) => times[i]),
        off,
        events,
      ) > MOSTLY,
  };
}

/** Of all samples the share that counts as being at events, and the share of a misfit from which on it comes with them. */
const NEAREST = 0.15;
const MOSTLY = 0.5;

/** Which share of what noise does not explain lies in the samples that are nearest to events. */
function atEvents(left: Float64Array, times: Float64Array, off: number, events: readonly number[]): number {
  if (events.length === 0) return 0;
  let e = 0;
  const far = times.map((t) => {
    while (e + 1 < events.length && Math.abs(events[e + 1] - t) <= Math.abs(events[e] - t)) e++;
    return Math.abs(events[e] - t);
  });
  const bound = far.slice().sort()[Math.floor(NEAREST * (far.length - 1))];
  let [near, all] = [0, 0];
  for (const [k, each] of left.entries()) {
    const excess = each ** 2 - off ** 2;
    all += excess;
    if (far[k] <= bound) near += excess;
  }
  return all > 0 ? near / all : 0;
}

/** An edge lies between two samples: farther off than that and half a sample more, the run's lies elsewhere. */
export const LATE = 1.5;

/** The edge that the run has farthest from where it was captured, if that is farther than samples leave open. */
export function lateEdgeOf(
  pairs: readonly Pair[],
  simulated: readonly Edge[],
  shift: number,
  interval: number,
): Misfit["edge"] {
  let worst: Misfit["edge"] = null;
  for (const { edge, place } of pairs) {
    if (!edge.isSteep) continue;
    const captured = edge.time + shift;
    const late = (simulated[place]?.time ?? Number.POSITIVE_INFINITY) - captured;
    if (Math.abs(late) > Math.max(LATE * interval, Math.abs(worst?.late ?? 0))) worst = { captured, late };
  }
  return worst;
}

/** Whether nothing in a channel stands out of its noise. */
export function isFlat(channel: Channel): boolean {
  const { curve, places } = channel;
  const values = Float64Array.from(places, (i) => curve.values[i]);
  const level = meanOf(values);
  return !misfitOf(
    channel,
    values.map((value) => value - level),
    Float64Array.from(places, (i) => curve.time[i]),
  ).isBeyondNoise;
}

/** Lags over which noise is looked at, and from how many standard deviations of chance on it goes together. */
const LAGS = 50;
const TOGETHER = 3;

/**
 * By what share larger noise counts because neighbouring samples go together: the square root of 1 + 2·Σρ, as far as the coefficients ρ of the first lags stand out of
 * chance, 1/√n (Bartlett, J. R. Stat. Soc. Suppl. 8, 1946; Priestley, "Spectral Analysis and Time Series", 1981, 5.3). 1 for white noise.
 *
 * @param left what is left of evenly spaced samples; NaN where nothing is known
 */
export function togetherness(left: Float64Array): number {
  const at = (lag: number): number => {
    let [sum, count] = [0, 0];
    for (let i = 0; i + lag < left.length; i++) {
      const each = left[i] * left[i + lag];
      if (Number.isNaN(each)) continue;
      sum += each;
      count++;
    }
    return count === 0 ? 0 : sum / count;
  };
  const own = at(0);
  const chance =
    TOGETHER /
    Math.sqrt(
      Math.max(
        1,
        left.reduce((count, each) => count + (Number.isNaN(each) ? 0 : 1), 0),
      ),
    );
  let sum = 1;
  for (let lag = 1; lag <= Math.min(LAGS, left.length / 4); lag++) {
    const rho = own > 0 ? at(lag) / own : 0;
    if (!(rho > chance)) break;
    sum += 2 * rho;
  }
  return Math.sqrt(sum);
}

function meanOf(values: Float64Array): number {
  return values.length === 0 ? 0 : values.reduce((sum, each) => sum + each, 0) / values.length;
}

/** Standard normal where signs follow each other by chance. */
function runsOf(values: Float64Array): number {
  let [above, below, runs] = [0, 0, 0];
  let last = 0;
  for (const value of values) {
    const sign = Math.sign(value);
    if (sign === 0) continue;
    if (sign > 0) above++;
    else below++;
    if (sign !== last) runs++;
    last = sign;
  }
  const n = above + below;
  if (above < 2 || below < 2) return 0;
  const mean = 1 + (2 * above * below) / n;
  const variance = ((mean - 1) * (mean - 2)) / (n - 1);
  return (runs - mean) / Math.sqrt(variance);
}

/** What rounding to steps leaves in common may stay in every mean. */
function slowPart(values: Float64Array, rms: number, common: number): { slow: number; worst: number } {
  const blocks = Math.floor(values.length / BLOCK);
  const allowed = 2 * common;
  let sum = 0;
  let most = 0;
  let worst = 0;
  // Noise by what neighbours differ in: a slow misfit is not in it.
  let apart = 0;
  for (let i = 1; i < values.length; i++) apart += (values[i] - values[i - 1]) ** 2;
  const noise = Math.min(rms, Math.sqrt(apart / Math.max(1, 2 * (values.length - 1)))) || rms || 1;
  for (let b = 0; b < blocks; b++) {
    const mean = meanOf(values.subarray(b * BLOCK, (b + 1) * BLOCK));
    const excess = Math.max(0, Math.abs(mean) - allowed) ** 2 * (BLOCK / noise ** 2);
    sum += excess;
    if (excess > most) {
      most = excess;
      worst = b * BLOCK + BLOCK / 2;
    }
  }
  if (blocks === 0) return { slow: 0, worst };
  // As normal as a sum of so few or so many squares can be made (Wilson and Hilferty, Proc. Natl. Acad. Sci. 17, 1931, 684–688).
  const spread = 2 / (9 * blocks);
  return { slow: (Math.cbrt(sum / blocks) - 1 + spread) / Math.sqrt(spread), worst };
}
