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
    let most = 0;
    let at = -1;
    let looked = 0;
    each(curve, stretch, (i, over) => {
      looked++;
      const slope = (sign * (values[i + stretch] - values[i])) / over;
      if (slope > most) {
        most = slope;
        at = i;
      }
    });
    if (at < 0) break;
    const over = time[at + stretch] - time[at];
    let alike = 0;
    const near = most - (sigma / over) * (Math.sqrt(2 * Math.log(looked)) + 1);
    if (sigma > 0)
      each(curve, stretch, (i, length) => {
        if (sign * (values[i + stretch] - values[i]) >= near * length) alike++;
      });
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

function each({ time, pieces }: Curve, stretch: number, look: (first: number, over: number) => void): void {
  const by = Math.max(1, stretch / FINE);
  for (const [first, end] of pieces)
    for (let i = first; i + stretch < end; i += by) {
      const over = time[i + stretch] - time[i];
      if (over > 0) look(i, over);
    }
}
