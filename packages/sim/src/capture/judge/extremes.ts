import type { Peak } from "../../trace/types.ts";
import type { Curve } from "./curve.ts";
import type { Extreme, Resolution } from "./types.ts";

/**
 * An extreme with how far it may be off. Three shares: a single value's own uncertainty; between two samples the curve may have gone on rising as it did
 * just before, so that the true peak lies anywhere within that (rectangular, JCGM 100:2008, 4.3.7); and the largest of n noisy samples lies about
 * σ·√(2·ln n) too high (Cramér, "Mathematical Methods of Statistics", 1946, 28.6), which is not taken off but added to the uncertainty in full (F.2.4.5).
 * All samples count that could have been it, wherever they are: those no more than σ·(√(2·ln n) + 1) below it.
 */
export function extremeOf(curve: Curve, peak: Peak, sign: 1 | -1, resolution: Resolution): Extreme {
  const { time, values } = curve;
  const at = indexAt(time, values, peak);
  const u = resolution.ofValue;
  const before = at > 0 ? sign * (values[at] - values[at - 1]) : 0;
  const after = at + 1 < values.length ? sign * (values[at] - values[at + 1]) : 0;
  // What it rises to both sides, less what noise makes of such a difference: beside a flat top nothing is left.
  const between = Math.sqrt(Math.max(0, Math.max(0, Math.min(before, after)) ** 2 - 2 * (2 * u) ** 2));
  const excess = luck(values, sign, resolution.alone);
  return { value: peak.value, time: peak.time, plusMinus: 2 * Math.hypot(u, between / Math.sqrt(12)) + excess };
}

/** By how much the largest of those values that noise of this standard deviation may have made the largest lies too high. */
function luck(values: Float64Array, sign: 1 | -1, sigma: number): number {
  if (!(sigma > 0)) return 0;
  let top = -Infinity;
  for (const value of values) if (sign * value > top) top = sign * value;
  const near = top - sigma * (Math.sqrt(2 * Math.log(values.length)) + 1);
  let count = 0;
  for (const value of values) if (sign * value >= near) count++;
  return sigma * Math.sqrt(2 * Math.log(Math.max(1, count)));
}

function indexAt(time: Float64Array, values: Float64Array, { value, time: when }: Peak): number {
  let low = 0;
  let high = time.length - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (time[middle] < when) low = middle + 1;
    else high = middle;
  }
  // Several samples may have one time.
  let at = low;
  while (at + 1 < time.length && values[at] !== value && time[at + 1] === when) at++;
  return at;
}
