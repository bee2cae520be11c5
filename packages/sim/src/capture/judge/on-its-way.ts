import type { Curve } from "./curve.ts";
import type { Extreme, Resolution } from "./types.ts";

/** What goes back by so many uncertainties of a value has turned. */
const TURNS = 6;
/** Parts of a rise, by its time, that tell how steep it ends: this one and its halves, of so many samples at least. */
const LAST = 0.25;
const LEAST = 3;
/** A level is the mean of a share of the samples of such a part; a difference of two is known to so many uncertainties of it, and steps. */
const MEAN_OF = 4;
const STANDS_OUT = 3;

/** Where what is known of a curve ends on its way up, or begins on its way down. */
export interface OnItsWay {
  /** How high it would have come, or came from, V or A. */
  readonly reaches: number;
  readonly where: string;
}

/**
 * How high a curve would have come where what is known of it ends on its way up, if it had gone on there as long as it had risen, or as a gap lasts; and likewise backwards, where
 * it begins on its way down. A simulated run that is cut off then is not over either. At the ends of the record only what is its highest, and the only time that it was so high, counts.
 */
export function onItsWay(curve: Curve, { value }: Extreme, { quantum, alone }: Resolution): OnItsWay | null {
  const { time, pieces, digit } = curve;
  const step = quantum ?? digit;
  const doubt = { step, ofValue: Math.hypot(step / Math.sqrt(12), alone) };
  let most: OnItsWay | null = null;
  for (const [k, [first, end]] of pieces.entries()) {
    const before = pieces[k - 1]?.[1];
    const after = pieces[k + 1]?.[0];
    const ways = [
      { at: end - 1, to: first, way: -1, gap: after === undefined ? null : time[after] - time[end - 1] },
      { at: first, to: end - 1, way: 1, gap: before === undefined ? null : time[first] - time[before - 1] },
    ] as const;
    for (const { at, to, way, gap } of ways) {
      if (gap === null && curve.values[at] + TURNS * doubt.ofValue < value) continue;
      const reaches = reachOf(curve, { at, to, way }, gap ?? Infinity, doubt);
      if (reaches === null || reaches <= (most?.reaches ?? -Infinity)) continue;
      most = { reaches, where: WHERE[gap === null ? "record" : "gap"][way === -1 ? "ended" : "began"] };
    }
  }
  return most;
}

const WHERE = {
  record: {
    ended: "it was still on its way up when the record ended",
    began: "it was on its way down already when the record began",
  },
  gap: {
    ended: "it was on its way up where samples are missing",
    began: "it was on its way down already where samples were missing before",
  },
} as const;

/** From `at`, where knowledge ends, up to `to` at most. */
interface Way {
  readonly at: number;
  readonly to: number;
  readonly way: 1 | -1;
}

/** A single value's standard uncertainty, and the step it is written in; V or A. */
interface Doubt {
  readonly step: number;
  readonly ofValue: number;
}

function reachOf({ time, values }: Curve, { at, to, way }: Way, gap: number, { step, ofValue }: Doubt): number | null {
  const turn = TURNS * ofValue;
  let least = values[at];
  let start = at;
  while (start !== to && values[start + way] <= least + turn) {
    start += way;
    if (values[start] < least) least = values[start];
  }
  // Where it came as high before and turned, it was about to turn.
  if (gap === Infinity && turnedBefore(values, [Math.min(at, start), Math.max(at, start)], values[at] - turn))
    return null;
  const lasts = Math.abs(time[at] - time[start]);
  const goesOn = Math.min(lasts, gap);
  let reaches: number | null = null;
  for (let part = Math.floor(LAST * (Math.abs(at - start) + 1)); part >= LEAST; part >>= 1) {
    const mean = Math.max(1, Math.floor(part / MEAN_OF));
    const end = meanOf(values, at, way, mean);
    const rise = end - meanOf(values, at + way * part, way, mean);
    const share = goesOn / Math.abs(time[at] - time[at + way * part]);
    const off = (Math.SQRT2 * ofValue) / Math.sqrt(mean);
    // The last of it that stands out tells best how it goes on; what does not stand out any more may have ended.
    if (rise > STANDS_OUT * off + step) reaches = end + rise * share;
    else if (reaches !== null) reaches = Math.min(reaches, end + (rise + off + 0.5 * step) * share);
  }
  return reaches;
}

/** Whether a value elsewhere is as high. */
function turnedBefore(values: Float64Array, [from, to]: readonly [number, number], level: number): boolean {
  for (let i = 0; i < values.length; i++) if ((i < from || i > to) && values[i] >= level) return true;
  return false;
}

function meanOf(values: Float64Array, from: number, way: 1 | -1, count: number): number {
  let sum = 0;
  for (let k = 0; k < count; k++) sum += values[from + way * k];
  return sum / count;
}
