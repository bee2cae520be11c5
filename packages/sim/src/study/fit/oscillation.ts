import { fourier, powerOfTwo } from "./fourier.ts";
import type { Misfit } from "./types.ts";

const CHANCE = 1e-4;
/** What swings so seldom in all is no ripple, whatever else it is. */
const SWINGS = 8;
/** Of all that stands out of the noise, the share that a ripple has, within so many widths of its line. */
const SHARE = 0.5;
const LINES = 3;
/** Parts of a record, and in how many of them a ripple has at least half of its size, in step. */
const PARTS = 4;
const STEADY = 3;
/** What stands out of noise, in times its mean. */
const OUT = 10;

/**
 * The strongest oscillation of what is left, at samples that are evenly apart. A ripple goes on through all of the record, in step with itself: what comes again with each round of a line
 * has a line in the spectrum as well, but others beside it.
 */
export function oscillationOf(
  left: Float64Array,
  times: Float64Array,
  { rms, off, common, ordinary }: { rms: number; off: number; common: number; ordinary: ReadonlySet<number> },
): { readonly isThere: boolean; readonly ripple: Misfit["ripple"] } {
  const count = left.length;
  const none = { isThere: false, ripple: null };
  if (count < 64) return none;
  const step = (times[count - 1] - times[0]) / (count - 1);
  const size = powerOfTwo(count);
  const re = new Float64Array(size);
  const im = new Float64Array(size);
  // Where something was left out, nothing is known: that counts as nothing left.
  let used = 0;
  for (let i = 0; i < count; i++) {
    const at = Math.round((times[i] - times[0]) / step);
    if (at >= size || !ordinary.has(i)) continue;
    re[at] = Math.max(-5 * rms, Math.min(5 * rms, left[i]));
    used++;
  }
  const values = re.slice();
  fourier(re, im);
  // What swings fewer than four times in all is a slow misfit.
  const first = Math.ceil((4 * size) / count);
  const power = Float64Array.from({ length: size / 2 }, (_, k) => (k < first ? 0 : re[k] ** 2 + im[k] ** 2));
  let [sum, where] = [0, first];
  for (let k = first; k < power.length; k++) {
    sum += power[k];
    if (power[k] > power[where]) where = k;
  }
  const n = power.length - first;
  const limit = 1 - (CHANCE / n) ** (1 / (n - 1));
  const amplitude = (2 * Math.sqrt(power[where])) / Math.max(1, used);
  if (power[where] / sum < limit || amplitude < Math.max(3 * common, 0.15 * off)) return none;
  const place = peakOf(power, where);
  const isRipple =
    (place * count) / size >= SWINGS &&
    shareOf(power.subarray(first), where - first, (LINES * size) / count) >= SHARE &&
    isSteady(values.subarray(0, count), place / size);
  return { isThere: true, ripple: isRipple ? { frequency: place / (size * step), amplitude } : null };
}

/** Between which two a line has its top, by a parabola. */
function peakOf(power: Float64Array, where: number): number {
  const [a, b, c] = [power[where - 1], power[where], power[where + 1] ?? 0].map(Math.sqrt);
  const bend = a - 2 * b + c;
  return bend < 0 ? where + (a - c) / (2 * bend) : where;
}

/** Share of a line in all that stands out of the noise, whose mean is that of exponential deviates with the same median. */
function shareOf(power: Float64Array, where: number, width: number): number {
  const floor = (OUT * power.slice().sort()[power.length >> 1]) / Math.LN2;
  let [own, all] = [0, 0];
  for (const [k, each] of power.entries()) {
    if (each < floor) continue;
    all += each;
    if (Math.abs(k - where) <= width) own += each;
  }
  return all > 0 ? own / all : 0;
}

/** Whether a part of most stretches swings at this frequency, in step with the whole. */
function isSteady(values: Float64Array, frequency: number): boolean {
  const parts = Array.from({ length: PARTS }, () => ({ re: 0, im: 0 }));
  for (const [i, value] of values.entries()) {
    const part = parts[Math.floor((i * PARTS) / values.length)];
    part.re += value * Math.cos(2 * Math.PI * frequency * i);
    part.im += value * Math.sin(2 * Math.PI * frequency * i);
  }
  const [re, im] = [parts.reduce((sum, each) => sum + each.re, 0), parts.reduce((sum, each) => sum + each.im, 0)];
  const own = (re * re + im * im) / PARTS;
  return parts.filter((each) => each.re * re + each.im * im >= own / 2).length >= STEADY;
}
