import type { Curve } from "./curve.ts";
import { highestRun } from "./flat-top.ts";
import { hiddenNoise } from "./hidden-noise.ts";
import { restlessness } from "./restless.ts";
import type { Resolution } from "./types.ts";

/** Values by which the smallest step is looked for, and the different ones among them that can still be steps of an instrument of 16 bits. */
const LOOKED_AT = 200_000;
const MOST_STEPS = 1 << 16;
/** So few different values need not lie a single step apart anywhere. */
const FEW = 8;
/** Into how many parts the least difference is divided at most, and how many times what digits leave open a part has to be. */
const MOST_PARTS = 64;
const CLEAR = 4;
/** Samples of a stretch in which noise is taken, and how many stretches at most. */
const STRETCH = 32;
const MOST_STRETCHES = 8192;
/**
 * The quietest quarter of stretches tells the noise. A deviation from n values scatters by 1/√(2(n − 1)) of itself, so the lower quartile of many lies
 * 0.674 times that below their middle.
 */
const QUIET = 0.25;
const QUARTILE_SHARE = 1 - 0.674 / Math.sqrt(2 * (STRETCH - 2));

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
  const common = distinct.length > FEW ? 0 : commonStep(apart, least, Math.max(digit, 1e-6 * span));
  let step = common > 0 ? common : near[near.length >> 1];
  let off = Infinity;
  for (let round = 0; round < 3; round++) ({ step, off } = fittedStep(distinct, step));
  return { quantum: off < 0.15 * step ? step : null, between: null };
}

/** The largest part of the least difference of which all are whole multiples, each but for `off`; 0 where that is nothing. */
function commonStep(apart: readonly number[], least: number, off: number): number {
  for (let parts = 1; parts <= MOST_PARTS && least / parts > CLEAR * off; parts++) {
    const step = least / parts;
    if (apart.every((each) => Math.abs(each - step * Math.round(each / step)) <= off * (1 + each / least))) return step;
  }
  return 0;
}

/** Least squares of the values over the number of their step; `off`: the root mean square of what is left. */
function fittedStep(distinct: readonly number[], step: number): { step: number; off: number } {
  const numbers = [0];
  for (let k = 1; k < distinct.length; k++)
    numbers.push(numbers[k - 1] + Math.max(1, Math.round((distinct[k] - distinct[k - 1]) / step)));
  const n = numbers.length;
  const meanNumber = numbers.reduce((sum, each) => sum + each, 0) / n;
  const meanValue = distinct.reduce((sum, each) => sum + each, 0) / n;
  let [xx, xy] = [0, 0];
  for (let k = 0; k < n; k++) {
    xx += (numbers[k] - meanNumber) ** 2;
    xy += (numbers[k] - meanNumber) * (distinct[k] - meanValue);
  }
  const fitted = xy / xx;
  let left = 0;
  for (let k = 0; k < n; k++) left += (distinct[k] - meanValue - fitted * (numbers[k] - meanNumber)) ** 2;
  return { step: fitted, off: Math.sqrt(left / n) };
}

/**
 * Standard deviation about a straight line in the quietest stretches; no more than from sample to sample, for a line that goes on and off, or ripples, may hold no
 * stretch without that.
 */
function noiseOf(curve: Curve, steps: number, hidden: number): number {
  const { values } = curve;
  // A top that is cut off has no noise left, and says nothing about the rest.
  const [from, to] = highestRun(curve);
  const cut = curve.pieces.flatMap(([first, end]) =>
    from >= first && to <= end
      ? [
          [first, from],
          [to, end],
        ]
      : [[first, end]],
  );
  const pieces = cut.some(([first, end]) => end - first >= STRETCH) ? cut : curve.pieces;
  const starts = pieces.flatMap(([first, end]) =>
    Array.from({ length: Math.floor((end - first) / STRETCH) }, (_, k) => first + k * STRETCH),
  );
  const every = Math.max(1, Math.ceil(starts.length / MOST_STRETCHES));
  const deviations = starts
    .filter((_, index) => index % every === 0)
    .map((start) => deviation(values, start))
    .toSorted((a, b) => a - b);
  const quiet = deviations[Math.floor(QUIET * deviations.length)];
  if (quiet === undefined) return 0;
  const ofSteps = steps / Math.sqrt(12);
  // Where steps hide noise, differences show next to nothing of either.
  const most = Math.max(restlessness(curve, steps, [from, to]), Math.hypot(ofSteps, hidden));
  return Math.min(quiet / QUARTILE_SHARE, most);
}

function deviation(values: Float64Array, start: number): number {
  const middle = (STRETCH - 1) / 2;
  let [sum, tilt] = [0, 0];
  for (let k = 0; k < STRETCH; k++) {
    sum += values[start + k];
    tilt += (k - middle) * values[start + k];
  }
  const mean = sum / STRETCH;
  const slope = tilt / ((STRETCH * (STRETCH ** 2 - 1)) / 12);
  let left = 0;
  for (let k = 0; k < STRETCH; k++) left += (values[start + k] - mean - slope * (k - middle)) ** 2;
  return Math.sqrt(left / (STRETCH - 2));
}
