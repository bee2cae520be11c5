import type { Curve } from "./curve.ts";
import type { Resolution, Slope } from "./types.ts";

/** A slope is known well enough where it may be off by no more than this share of it. */
const WELL = 0.1;
/** Stretches longer than this many samples begin at every so many only: what lies between is nearly the same stretch. */
const FINE = 256;

/**
 * The steepest rise (`sign` 1) or fall (−1), over the shortest stretch in which noise and steps leave it known to a tenth of itself; V/s or A/s. Two values
 * of standard uncertainty u, a time t apart, give a slope to within √2·u/t (JCGM 100:2008, 5.1.2). The steepest of n stretches that noise cannot tell apart
 * is also the luckiest: it lies some √2·σ·√(2·ln n)/t too high (Cramér, "Mathematical Methods of Statistics", 1946, 28.6) and has both its roundings to steps
 * of q on its side, up to q/t. That is added in full, not taken off.
 *
 * @returns null where nothing rises beyond what noise makes of it
 */
export function steepest(curve: Curve, sign: 1 | -1, resolution: Resolution): Slope | null {
  const { time, values } = curve;
  const sigma = Math.SQRT2 * resolution.alone;
  const rounding = Math.max(resolution.quantum ?? 0, curve.digit);
  let best: Slope | null = null;
  for (let stretch = 1; stretch < values.length; stretch *= 2) {
    const { most, at, looked } = steepestOver(curve, sign, stretch);
    if (at < 0) break;
    const over = time[at + stretch] - time[at];
    const near = most - (sigma / over) * (Math.sqrt(2 * Math.log(looked)) + 1);
    const alike = sigma > 0 ? countAlike(curve, sign, stretch, near) : 0;
    const luck = sigma * Math.sqrt(2 * Math.log(Math.max(1, alike)));
    const ofValues = (Math.max(2 * Math.SQRT2 * resolution.ofValue, rounding + 2 * sigma) + luck) / over;
    // Both instants are off by anything within the grain of the times: √2·grain/√12 between them.
    const plusMinus = ofValues + (most * 2 * curve.timeGrain) / (Math.sqrt(6) * over);
    const found = { value: sign * most, plusMinus, time: time[at], over };
    if (best === null || plusMinus / most < best.plusMinus / Math.abs(best.value)) best = found;
    if (plusMinus <= WELL * most) return found;
  }
  return best !== null && best.plusMinus < 0.5 * Math.abs(best.value) ? best : null;
}

// Two loops of one shape: a function called for each of millions of samples would cost more than all they do.
function steepestOver({ time, values, pieces }: Curve, sign: 1 | -1, stretch: number) {
  const by = Math.max(1, stretch / FINE);
  let [most, at, looked] = [0, -1, 0];
  for (const [first, end] of pieces)
    for (let i = first; i + stretch < end; i += by) {
      const over = time[i + stretch] - time[i];
      if (!(over > 0)) continue;
      looked++;
      const slope = (sign * (values[i + stretch] - values[i])) / over;
      if (slope > most) {
        most = slope;
        at = i;
      }
    }
  return { most, at, looked };
}

function countAlike({ time, values, pieces }: Curve, sign: 1 | -1, stretch: number, near: number): number {
  const by = Math.max(1, stretch / FINE);
  let alike = 0;
  for (const [first, end] of pieces)
    for (let i = first; i + stretch < end; i += by) {
      const over = time[i + stretch] - time[i];
      if (over > 0 && sign * (values[i + stretch] - values[i]) >= near * over) alike++;
    }
  return alike;
}
