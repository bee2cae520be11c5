import { reach } from "./between.ts";
import type { Curve } from "./curve.ts";

/** So many equal samples may hide what a curve did meanwhile; fewer are looked at as any others. */
const LEAST_RUN = 3;
/** Places within a run at which its two flanks are held against each other. */
const PLACES = 64;
/** A run at the top is no longer than this of the one that a record begins with: then that is the level of service. */
const AS_LONG = 0.8;

/** A flank that ends at a run: its last step over `stretch` samples, in which ratio the next ones follow, and how far below the top it ends. */
interface Flank {
  readonly step: number;
  readonly ratio: number;
  readonly stretch: number;
  readonly drop: number;
}

/** Nothing is known beside the run: any flank may have been there. */
const UNSEEN = { step: Infinity, ratio: 1, stretch: 1, drop: 0 };

/**
 * How far above its highest value, V or A, a curve may have gone in runs of equal samples: to where its flanks meet, each going on into the run as it came. What is only
 * sampled and rounded goes no farther than steps and noise. One that goes farther breaks off: as at the end of an instrument's range, where too little noise moves it
 * to tell, or as a line that jumps to a level and is held there. The two cannot be told apart, unless the record begins at that level, in service, and never stays there
 * as long again.
 *
 * @param off by what steps and noise may move a difference of two samples, V or A
 */
export function aboveRuns(curve: Curve, top: number, off: number): number {
  if (isService(curve, top, off)) return 0;
  const { values, pieces } = curve;
  let most = 0;
  for (const [first, end] of pieces)
    for (let i = first; i < end; i++) {
      if (values[i] !== top) continue;
      const from = i;
      while (i < end && values[i] === top) i++;
      if (i - from >= LEAST_RUN) most = Math.max(most, meeting(values, [from, i], [first, end], off));
    }
  return most;
}

/** How far above a run its flanks meet, V or A. */
function meeting(
  values: Float64Array,
  [from, to]: readonly [number, number],
  [first, end]: readonly [number, number],
  off: number,
): number {
  const samples = to - from;
  const before = from === first ? UNSEEN : flank(values, from - 1, -1, first, samples, off);
  const after = to === end ? UNSEEN : flank(values, to, 1, end - 1, samples, off);
  let most = 0;
  for (let k = 0; k <= PLACES; k++) {
    const at = ((samples + 1) * k) / PLACES;
    most = Math.max(most, Math.min(heightOf(before, at), heightOf(after, samples + 1 - at)));
  }
  return most;
}

function heightOf({ step, ratio, stretch, drop }: Flank, samples: number): number {
  return step === Infinity ? Infinity : reach({ step, ratio, fresh: false }, samples / stretch) - drop;
}

/** The flank from `at`, right beside a run, outwards: over so few samples that it stands out of steps and noise, and no more than the run has. */
function flank(values: Float64Array, at: number, way: 1 | -1, last: number, samples: number, off: number): Flank {
  const height = (by: number): number => ((last - at) * way >= by ? values[at + way * by] : Number.NaN);
  const top = values[at - way];
  const drop = top - values[at];
  const before = values[at] - height(1);
  // It came to the top as fast as it was: nothing says that it was about to stop.
  if (drop > off && !(before > drop)) return { step: drop, ratio: 1, stretch: 1, drop };
  const there = Math.abs(last - at);
  const most = Math.min(samples, there);
  for (let stretch = 1; stretch <= most; stretch++) {
    const step = values[at] - height(stretch);
    if (step <= off) continue;
    const earlier = height(stretch) - height(2 * stretch);
    return { step, ratio: earlier > step ? step / earlier : 1, stretch, drop };
  }
  // Where the record ends sooner than the run is long, nobody knows what was about to come.
  return there < samples ? UNSEEN : { step: 0, ratio: 1, stretch: 1, drop };
}

/** Whether the record begins at this level and never stays there as long again before it falls, or is there most of the time. */
function isService({ values }: Curve, top: number, off: number): boolean {
  let [first, longest, all] = [0, 0, 0];
  for (let i = 0; i < values.length; i++) {
    if (values[i] < top - off) continue;
    const from = i;
    while (i < values.length && values[i] >= top - off) i++;
    all += i - from;
    if (from === 0) first = i;
    else if (i < values.length) longest = Math.max(longest, i - from);
  }
  return first >= LEAST_RUN && (longest < AS_LONG * first || all > 0.5 * values.length);
}
