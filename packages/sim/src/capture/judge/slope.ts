import { between, flankOf, reach } from "./between.ts";
import type { Curve } from "./curve.ts";
import type { Resolution, Slope } from "./types.ts";

/** A slope is known well enough where it may be off by no more than this share of it. */
const WELL = 0.1;
/** Stretches longer than this many samples begin at every so many only: what lies between is nearly the same stretch. */
const FINE = 256;

/** A slope that loses more than this share of itself from one stretch to the next breaks off there. */
const BREAK = 0.5;

/** A stretch of so many samples from `at` on. */
interface Steepest {
  /** Of either sign: how steep, how much of that noise may have made, and how much of that the luck of many. */
  readonly value: number;
  readonly noise: number;
  readonly luck: number;
  readonly at: number;
  readonly stretch: number;
  readonly over: number;
}

/**
 * The steepest rise (`sign` 1) or fall (−1), over the shortest stretch in which noise and steps leave it known to a tenth of itself; V/s or A/s. Two values
 * of standard uncertainty u, a time t apart, give a slope to within √2·u/t (JCGM 100:2008, 5.1.2). The steepest of n stretches that noise cannot tell apart
 * is also the luckiest: it lies some √2·σ·√(2·ln n)/t too high (Cramér, "Mathematical Methods of Statistics", 1946, 28.6) and has both its roundings to steps
 * of q on its side, up to q/t. That is added in full, not taken off. And the curve bends: what is told is the mean over the stretch, and somewhere in it the curve
 * is steeper, by what the stretches beside it leave open.
 *
 * @returns null where nothing rises beyond what noise makes of it
 */
export function steepest(curve: Curve, sign: 1 | -1, resolution: Resolution): Slope | null {
  const { time, values } = curve;
  const sigma = Math.SQRT2 * resolution.alone;
  const rounding = Math.max(resolution.quantum ?? 0, curve.digit);
  let best: Steepest | null = null;
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
    const found = { value: most, noise: plusMinus, at, over, stretch, luck: luck / over };
    const isWell = plusMinus <= WELL * most;
    // Where none is known so well, the one that surely is steepest: a longer stretch is known better, but levels what is steep in it.
    if (best === null || isWell || most - 2 * plusMinus > best.value - 2 * best.noise) best = found;
    if (isWell) break;
  }
  if (best === null || !(best.noise < 0.5 * best.value)) return null;
  const { value, noise, at, over } = best;
  const { missed, unseen } = bendAt(curve, sign, best);
  return { value: sign * value, plusMinus: noise + (unseen ? 0 : missed), time: time[at], over, atLeast: unseen };
}

/**
 * How much steeper than on the mean the curve may be within its steepest stretch, by the slopes of the stretches beside it. Where it bends evenly, they tell of the steepest
 * as samples tell of a peak. Where it breaks, on one side, the other side tells how it goes on up to there: half a stretch from the middle, and a sample farther.
 */
function bendAt({ time, values, pieces }: Curve, sign: 1 | -1, { at, stretch, luck, noise, value }: Steepest) {
  const [first, end] = pieces.find((piece) => at < piece[1]) ?? [0, values.length];
  const slopes = [-3, -2, -1, 0, 1, 2, 3].map((by) => {
    const from = at + by * stretch;
    const to = from + stretch;
    // Where the curve begins or ends it may be steepest, and what came before is not known.
    if (from < first || to >= end) return Math.abs(by) === 1 ? -Infinity : Number.NaN;
    const over = time[to] - time[from];
    return over > 0 ? (sign * (values[to] - values[from])) / over : Number.NaN;
  });
  const doubt = { luck, off: noise, margin: Math.SQRT2 * noise };
  const farthest = 0.5 + 1 / stretch;
  const even = between({ heights: slopes, times: slopes.map((_, k) => k) }, doubt, farthest).missed;
  const sides = ([1, -1] as const)
    .map((way) => [3, 3 + way, 3 + 2 * way, 3 + 3 * way].map((k) => slopes[k]))
    .map(([own, next, then, last]) => ({ step: own - next, before: next - then, first: then - last }))
    // The break may lie within the stretch beside the steepest one, which then has a part of the slope.
    .map((side) => ({ ...side, breaks: Math.max(side.step, side.before || 0) > BREAK * value }));
  const bends = sides.filter(({ breaks }) => !breaks);
  const beside = bends.map(({ step, before }) => reach(flankOf(step, before, doubt), farthest));
  // Where it breaks within the steepest stretch itself, only what follows tells how it goes on.
  const within =
    bends.length === 1
      ? bends.map(({ step, before, first: third }) => reach(flankOf(before, third, doubt), 1.5) - step)
      : [];
  const missed = Math.max(even, ...within, Math.min(...(beside.length > 0 ? beside : [0])));
  return { missed, unseen: bends.length === 0 || missed > value };
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
