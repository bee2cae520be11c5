/** By how much a step may grow from one interval to the next and still be the same flank: an exponential whose time constant is 0.7 of an interval. */
export const FASTEST = 4;
/** A step that is so many times what noise makes of one is known well enough to go on from. */
const CLEAR = 2;
/** Halvings of an interval in which two flanks meet. */
const HALVINGS = 24;
/** Samples to each side of the highest. */
const SIDE = 3;

/** A highest sample and three to each side of it; NaN where the curve ends. −∞ right beside it: there the curve does not end, but nothing is known. */
export interface Surrounding {
  readonly heights: readonly number[];
  readonly times: readonly number[];
}

/** What noise and steps make of a difference of two heights. */
export interface Doubt {
  /** What being the highest of many adds to it. */
  readonly luck: number;
  /** What is added to it for what it may be off by. */
  readonly off: number;
  /** Up to where it may be nothing else. */
  readonly margin: number;
}

export interface Between {
  /** How much higher than its highest sample the curve may have been beside it. */
  readonly missed: number;
  /** It fell to both sides so fast that one sample alone saw it: then no bound is known. */
  readonly alone: boolean;
}

/** A flank that goes on: its next step would be `step · ratio`, and so on; `fresh`: nothing like it was there a step before. */
interface Flank {
  readonly step: number;
  readonly ratio: number;
  readonly fresh: boolean;
}

/**
 * How high a curve may have gone between a highest sample and its neighbours. To both sides of such an interval it has a flank, and each goes on into it as it
 * came, from step to step in the ratio of its last two: exact for a straight line and for an exponential, too high for a round top. The curve lies below both, so
 * at most where they meet. Where one flank does not even reach the sample that ends the interval, the curve jumped there; then the other flank bounds it alone.
 *
 * @param upTo how far from the highest sample it may have been, in intervals
 */
export function between({ heights, times }: Surrounding, doubt: Doubt, upTo = 1): Between {
  const flank = (from: number, way: 1 | -1, length: number, off: number): Flank => {
    const scaled = (k: number): number => {
      const lasts = Math.abs(times[k] - times[k + way]);
      return lasts > 0 ? ((heights[k] - heights[k + way]) * length) / lasts : 0;
    };
    return flankOf(scaled(from), Math.abs(from + way - SIDE) < SIDE ? scaled(from + way) : Number.NaN, {
      ...doubt,
      off,
    });
  };
  let missed = 0;
  let alone = false;
  const drops = ([-1, 1] as const).map((side) => heights[SIDE] - heights[SIDE + side]);
  for (const [index, side] of ([-1, 1] as const).entries()) {
    const drop = drops[index];
    const length = Math.abs(times[SIDE + side] - times[SIDE]);
    if (Number.isNaN(drop) || !(length > 0)) continue;
    const own = flank(SIDE, side === 1 ? -1 : 1, length, doubt.off);
    const other = flank(SIDE + side, side, length, 0.5 * doubt.off);
    const jumped = drop > reach(other, 1) + doubt.margin;
    // A sample that was caught on a fall within an interval tells nothing of when it began.
    const caught = other.fresh && drop > doubt.margin;
    // Of two jumps the smaller one is bounded by the larger flank only as far as it goes itself.
    const sharper = !(drops[1 - index] > drop);
    const most = reach(own, upTo);
    missed = Math.max(
      missed,
      jumped || caught ? (sharper ? most : Math.min(most, drop)) : meeting(own, other, drop, upTo),
    );
    alone ||= jumped && sharper && own.fresh;
  }
  return { missed, alone };
}

/** Both flanks stand out of noise and rounding. */
export function isClear({ heights }: Surrounding, { margin }: Doubt): boolean {
  const top = heights[SIDE];
  return Math.min(top - heights[SIDE - 1], top - heights[SIDE + 1]) > CLEAR * margin;
}

/** A flank by its last step and the one before it, NaN where that is not known; as steep as it may be, and noise alone makes none grow. */
export function flankOf(step: number, before: number, { luck, off, margin }: Doubt): Flank {
  if (!Number.isFinite(step)) return { step: 0, ratio: 1, fresh: false };
  const most = Math.max(0, step - luck) + off;
  if (Number.isNaN(before) || step <= margin) return { step: most, ratio: 1, fresh: false };
  const fresh = step > FASTEST * (Math.max(0, before) + margin);
  // What noise may have made of the difference of two steps is no bend.
  const bends = Math.abs(step - before) > 0.5 * margin;
  const ratio = bends ? most / Math.max(before, 0.5 * margin) : 1;
  return { step: most, ratio: Math.min(FASTEST, ratio), fresh };
}

/** How far a flank gets in so many intervals. */
export function reach({ step, ratio }: Flank, share: number): number {
  return Math.abs(ratio - 1) < 1e-9 ? step * share : (step * ratio * (ratio ** share - 1)) / (ratio - 1);
}

/** Where two flanks meet, over the highest sample, from which `own` rises; `other` rises towards it from `drop` below. */
function meeting(own: Flank, other: Flank, drop: number, upTo: number): number {
  const apart = (share: number): number => reach(own, share) + drop - reach(other, 1 - share);
  if (apart(0) >= 0) return 0;
  let [low, high] = [0, upTo];
  if (apart(high) < 0) return reach(own, high);
  for (let round = 0; round < HALVINGS; round++) {
    const middle = 0.5 * (low + high);
    if (apart(middle) < 0) low = middle;
    else high = middle;
  }
  return reach(own, high);
}
