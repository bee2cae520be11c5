import { reach } from "./between.ts";
import type { Curve } from "./curve.ts";
import { straightThrough, sumOfSquares } from "./straight.ts";

/** So many equal samples may hide what a curve did meanwhile; fewer are looked at as any others. */
const LEAST_RUN = 3;
/** Places within a run at which its two flanks are held against each other. */
const PLACES = 64;
/** Samples before a run over which a flank is taken for straight, more of them where it is level, and so many of its uncertainties that the run may lie beside it. */
const BESIDE = [16, 64] as const;
const DEVIATIONS = 4;
/** Noise of more than this share of a step averages rounding out. */
const DITHERS = 0.3;
/** A run at the top is no longer than this of the one that a record begins with: then that is the level of service. */
const AS_LONG = 0.8;
/** Of a step, how far below the top its mean lies at most. */
const NEAR = 1.2;

/** What moves samples: steps and noise, and by what both may move a difference of two; V or A. */
export interface Moved {
  readonly step: number;
  readonly sigma: number;
  readonly off: number;
}

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
 */
export function aboveRuns(curve: Curve, top: number, doubt: Moved): number {
  if (isService(curve, top, doubt)) return 0;
  const { values, pieces } = curve;
  let most = 0;
  for (const [first, end] of pieces)
    for (let i = first; i < end; i++) {
      if (values[i] !== top) continue;
      const from = i;
      while (i < end && values[i] === top) i++;
      if (i - from >= LEAST_RUN) most = Math.max(most, meeting(values, [from, i], [first, end], doubt));
    }
  return most;
}

/** How far above a run its flanks meet, V or A. */
function meeting(
  values: Float64Array,
  [from, to]: readonly [number, number],
  [first, end]: readonly [number, number],
  doubt: Moved,
): number {
  const samples = to - from;
  const before = from === first ? UNSEEN : flank(values, from - 1, -1, first, samples, doubt);
  const after = to === end ? UNSEEN : flank(values, to, 1, end - 1, samples, doubt);
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
function flank(values: Float64Array, at: number, way: 1 | -1, last: number, samples: number, doubt: Moved): Flank {
  const { off } = doubt;
  const height = (by: number): number => ((last - at) * way >= by ? values[at + way * by] : Number.NaN);
  const top = values[at - way];
  const drop = top - values[at];
  const before = values[at] - height(1);
  // It came to the top as fast as it was: nothing says that it was about to stop.
  if (drop > off && !(before > drop)) return { step: drop, ratio: 1, stretch: 1, drop };
  const there = Math.abs(last - at);
  if (isBeside(values, at, way, { there, samples }, doubt)) return UNSEEN;
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

/** Whether a straight line through the samples beside a run passes below it by more than steps and noise make of the two: then it came there by a jump, however small. */
function isBeside(
  values: Float64Array,
  at: number,
  way: 1 | -1,
  { there, samples }: { readonly there: number; readonly samples: number },
  { step, sigma }: Moved,
): boolean {
  // Noise moves a mean between steps, and without it each of both levels may be rounded by half of one.
  const rounded = sigma > DITHERS * step ? 0.5 * step : step;
  return BESIDE.some((count) => {
    if (there + 1 < count) return false;
    const places = Array.from({ length: count }, (_, k) => k + 1);
    const heights = places.map((k) => values[at + way * (k - 1)]);
    const { slope, rest } = straightThrough(places, heights);
    if (count > BESIDE[0] && Math.abs(slope) * count > 0.5 * step) return false;
    const mean = heights.reduce((sum, each) => sum + each / count, 0);
    const atRun = mean - slope * 0.5 * (count + 1);
    // A line is known to 2σ/√n where it ends, a run as if it were one sample of its own mean.
    const ofLine = (2 * Math.max(sigma, spreadOf(rest))) / Math.sqrt(count);
    return values[at - way] - atRun > rounded + DEVIATIONS * Math.hypot(ofLine, sigma / Math.sqrt(samples));
  });
}

function spreadOf(rest: readonly number[]): number {
  return Math.sqrt(sumOfSquares(rest) / Math.max(1, rest.length - 2));
}

/** Whether the record begins at this level and never stays there as long again before it falls, or is there most of the time. */
function isService({ values }: Curve, top: number, { step, off }: Moved): boolean {
  let [first, longest, all, sum] = [0, 0, 0, 0];
  for (let i = 0; i < values.length; i++) {
    if (values[i] < top - off) continue;
    const from = i;
    for (; i < values.length && values[i] >= top - off; i++) sum += values[i];
    all += i - from;
    if (from === 0) first = i;
    else if (i < values.length) longest = Math.max(longest, i - from);
  }
  // A level some steps below is another one, and noise that stands between two steps is on the upper one at times.
  const isThere = sum / all > top - NEAR * step;
  return isThere && first >= LEAST_RUN && (longest < AS_LONG * first || all > 0.5 * values.length);
}
