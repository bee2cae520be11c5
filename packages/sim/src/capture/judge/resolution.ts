import type { Curve } from "./curve.ts";
import { highestRun } from "./flat-top.ts";
import { hiddenNoise } from "./hidden-noise.ts";
import { restlessness } from "./restless.ts";
import { straightThrough, sumOfSquares } from "./straight.ts";
import type { Resolution } from "./types.ts";

/** Values by which the smallest step is looked for, and the different ones among them that can still be steps of an instrument of 16 bits. */
const LOOKED_AT = 200_000;
const MOST_STEPS = 1 << 16;
/** Of so many different values the common step is looked for: those of a fast curve need not lie a single step apart anywhere. */
const MANY = 2048;
/** Of a step, how far off a multiple of it may lie. */
const LOOSE = 0.25;
/** Into how many parts the least difference is divided at most, and how many times what digits leave open a part has to be. */
const MOST_PARTS = 64;
const CLEAR = 4;
/** Of a value, what sums of it are not better than. */
const DOUBLE = 1e-12;

/**
 * What the instrument makes of a single value.
 *
 * A value rounded to steps of q is anywhere within ±q/2 with equal chances: standard deviation q/√12 (Widrow & Kollár, "Quantization Noise", 2008,
 * chapter 1; JCGM 100:2008, 4.3.7 and F.2.2.1). Noise as it is seen has that in it, so it is taken off before both are added as squares.
 */
export function resolutionOf(curve: Curve): Resolution {
  const { quantum, between } = quantumOf(curve.values, curve.digit);
  const { low, high } = range(curve.values);
  const steps = Math.max(quantum ?? 0, curve.digit);
  const hidden = hiddenNoise(curve, quantum ?? between ?? 0);
  const found = noiseOf(curve, steps, hidden);
  // What is less is what sums of doubles leave of nothing.
  const noise = found < DOUBLE * Math.max(-low, high) ? 0 : found;
  // The digits that were written are steps as well, and two values are as far apart as a single one may be.
  const ofSteps = Math.max(quantum ?? 0, between ?? 0, curve.digit) / Math.sqrt(12);
  const ofNoise = Math.sqrt(Math.max(0, noise ** 2 - ofSteps ** 2));
  return {
    quantum,
    between,
    bits: quantum === null ? null : Math.log2((high - low) / quantum + 1),
    noise,
    alone: Math.max(ofNoise, hidden),
    ofValue: Math.hypot(ofSteps, ofNoise),
  };
}

function range(values: Float64Array): { low: number; high: number } {
  let low = Infinity;
  let high = -Infinity;
  for (const value of values) {
    if (value < low) low = value;
    if (value > high) high = value;
  }
  return { low, high };
}

/** The step of which all values are whole multiples, but for the digits they were written with; null where there is none. */
function quantumOf(
  values: Float64Array,
  digit: number,
): { readonly quantum: number | null; readonly between: number | null } {
  const every = Math.max(1, Math.floor(values.length / LOOKED_AT));
  const some = new Float64Array(Math.ceil(values.length / every));
  for (let k = 0; k < some.length; k++) some[k] = values[k * every];
  some.sort();
  const span = some[some.length - 1] - some[0];
  const distinct: number[] = [];
  for (const value of some)
    if (distinct.length === 0 || value - distinct[distinct.length - 1] > 1e-9 * span) distinct.push(value);
  if (distinct.length === 2) return { quantum: null, between: span };
  if (distinct.length < 3 || distinct.length > MOST_STEPS) return { quantum: null, between: null };
  const apart = distinct.slice(1).map((value, index) => value - distinct[index]);
  const least = apart.reduce((min, each) => Math.min(min, each), Infinity);
  const near = apart.filter((each) => each < 1.6 * least).toSorted((a, b) => a - b);
  const common = distinct.length > MANY ? 0 : commonStep(apart, least, Math.max(digit, 1e-6 * span));
  let step = common > 0 ? common : near[near.length >> 1];
  let off = Infinity;
  for (let round = 0; round < 3; round++) ({ step, off } = fittedStep(distinct, step));
  return { quantum: off < 0.15 * step ? step : null, between: null };
}

/** The largest part of the least difference of which all are whole multiples, each but for `off`; 0 where that is nothing. */
function commonStep(apart: readonly number[], least: number, off: number): number {
  const rising = apart.toSorted((a, b) => a - b);
  for (let parts = 1; parts <= MOST_PARTS && least / parts > CLEAR * off; parts++)
    if (areMultiples(rising, least / parts, off)) return least / parts;
  return 0;
}

/** Whether all are whole multiples of a step, which each larger one tells better. */
function areMultiples(rising: readonly number[], step: number, off: number): boolean {
  let found = step;
  let by = rising[0];
  for (const each of rising) {
    const multiple = Math.round(each / found);
    if (Math.abs(each - found * multiple) > Math.min(off * (1 + each / by), LOOSE * found)) return false;
    found = each / multiple;
    by = each;
  }
  return true;
}

/** Least squares of the values over the number of their step; `off`: the root mean square of what is left. */
function fittedStep(distinct: readonly number[], step: number): { step: number; off: number } {
  const numbers = [0];
  for (let k = 1; k < distinct.length; k++)
    numbers.push(numbers[k - 1] + Math.max(1, Math.round((distinct[k] - distinct[k - 1]) / step)));
  const { slope, rest } = straightThrough(numbers, distinct);
  return { step: slope, off: Math.sqrt(sumOfSquares(rest) / rest.length) };
}

/**
 * Standard deviation from sample to sample. Where steps hide noise, differences show next to nothing of either: then it is anything up to what they may hide, with equal
 * chances (JCGM 100:2008, 4.3.7).
 */
function noiseOf(curve: Curve, steps: number, hidden: number): number {
  // A top that is cut off has no noise left, and says nothing about the rest.
  return Math.max(
    restlessness(curve, steps, highestRun(curve)),
    Math.hypot(steps / Math.sqrt(12), hidden / Math.sqrt(3)),
  );
}
