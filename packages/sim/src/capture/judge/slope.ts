import type { Curve } from "./curve.ts";
import type { Resolution, Slope } from "./types.ts";

/** A slope is known well enough where it may be off by no more than this share of it. */
const WELL = 0.1;
const LONGEST = 4096;

/**
 * The steepest rise (`sign` 1) or fall (−1), over the shortest stretch in which noise and steps leave it known to a tenth of itself; V/s or A/s. Two values
 * of standard uncertainty u, a time t apart, give a slope to within √2·u/t (JCGM 100:2008, 5.1.2).
 *
 * @returns null where nothing rises beyond what noise makes of it
 */
export function steepest({ time, values, pieces }: Curve, sign: 1 | -1, { ofValue }: Resolution): Slope | null {
  let best: Slope | null = null;
  for (let stretch = 1; stretch <= LONGEST; stretch *= 2) {
    let most = 0;
    let at = -1;
    for (const [first, end] of pieces)
      for (let i = first; i + stretch < end; i++) {
        const over = time[i + stretch] - time[i];
        if (!(over > 0)) continue;
        const slope = (sign * (values[i + stretch] - values[i])) / over;
        if (slope > most) {
          most = slope;
          at = i;
        }
      }
    if (at < 0) break;
    const over = time[at + stretch] - time[at];
    const plusMinus = (2 * Math.SQRT2 * ofValue) / over;
    const found = { value: sign * most, plusMinus, time: time[at], over };
    if (best === null || plusMinus / most < best.plusMinus / Math.abs(best.value)) best = found;
    if (plusMinus <= WELL * most) return found;
  }
  return best !== null && best.plusMinus < 0.5 * Math.abs(best.value) ? best : null;
}
