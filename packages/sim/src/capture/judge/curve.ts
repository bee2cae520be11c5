import type { CapturedChannel } from "../types.ts";

/** A stretch in which the instrument was out of its range, from the last sample before to the first one after. */
export interface OutsideSpan {
  readonly from: number;
  readonly to: number;
  readonly side: 1 | -1 | 0;
}

/** A channel without its gaps: straight lines from sample to sample within each piece, nothing known between pieces. */
export interface Curve {
  /** s, never falling; the channel's own times. */
  readonly time: Float64Array;
  readonly values: Float64Array;
  /** First sample of each piece and the one after its last. */
  readonly pieces: readonly (readonly [first: number, end: number])[];
  /** Usual time between two samples, s. */
  readonly interval: number;
  /** How far an instant is left open by samples and by how coarsely times are written, s. */
  readonly timing: number;
  /** Of that, what the times as they are written leave open, s. */
  readonly timeGrain: number;
  readonly outside: readonly OutsideSpan[];
  /** What the last written digit is worth, V or A. */
  readonly digit: number;
}

/** Empty cells over more than so many usual steps are a gap: shorter ones are bridged, for loggers often fill a slow channel's column in every few lines only. */
const BRIDGED = 3;
/** A step that is so many times as long as usual and as those around it is a gap as well: rows are missing. */
const MISSING = 10;

/**
 * @param time of all rows, s, never falling
 * @param interval usual time between two rows, s
 * @param timeGrain step in which times are written, s
 */
export function curveOf(time: Float64Array, channel: CapturedChannel, interval: number, timeGrain: number): Curve {
  const { values, gaps, outOfRange, outside, digit, layout } = channel;
  const { deskew } = layout;
  const missing = missingRows(time, interval);
  if (gaps + outOfRange === 0) {
    const own = deskew === 0 ? time : time.map((t) => t - deskew);
    const marks = [0, ...missing, values.length];
    const pieces = marks.slice(1).map((end, k) => [marks[k], end] as const);
    return {
      time: own,
      values,
      pieces,
      interval,
      timing: Math.hypot(interval, timeGrain),
      timeGrain,
      outside: [],
      digit,
    };
  }
  const count = values.reduce((sum, value) => sum + (Number.isNaN(value) ? 0 : 1), 0);
  const own = new Float64Array(count);
  const kept = new Float64Array(count);
  const pieces: [number, number][] = [];
  const usual = (interval * values.length) / Math.max(1, count);
  const breaks = new Set(missing);
  let at = 0;
  let first = 0;
  let next = 0;
  for (let i = 0, last = -1; i < values.length; i++) {
    if (Number.isNaN(values[i])) continue;
    const before = next;
    while (next < outside.length && outside[next].first < i) next++;
    const apart =
      i > last + 1 ? next > before || time[i] - time[last] > BRIDGED * Math.max(interval, usual) : breaks.has(i);
    if (last >= 0 && apart) {
      pieces.push([first, at]);
      first = at;
    }
    own[at] = time[i] - deskew;
    kept[at] = values[i];
    at++;
    last = i;
  }
  pieces.push([first, at]);
  const longer = Math.max(interval, usual);
  const spans = outside.map(({ first: from, end, side }) => ({
    from: time[Math.max(0, from - 1)] - deskew,
    to: time[Math.min(end, time.length - 1)] - deskew,
    side,
  }));
  return {
    time: own,
    values: kept,
    pieces,
    interval: longer,
    timing: Math.hypot(longer, timeGrain),
    timeGrain,
    outside: spans,
    digit,
  };
}

/** Rows before which others are missing: a recorder that changes its pace has no gap where it does. */
function missingRows(time: Float64Array, interval: number): number[] {
  const found: number[] = [];
  for (let i = 1; i < time.length; i++) {
    const step = time[i] - time[i - 1];
    if (!(step > MISSING * interval)) continue;
    const around = [i - 2, i - 1, i + 1, i + 2]
      .filter((k) => k >= 1 && k < time.length)
      .map((k) => time[k] - time[k - 1])
      .toSorted((a, b) => a - b);
    if (step > MISSING * (around[around.length >> 1] ?? Infinity)) found.push(i);
  }
  return found;
}

/** Time of which nothing is known, but for that out of range, s; `since` and `until`: between these two, s, else from the first sample to the last. */
export function unseenTime({ time, pieces, outside }: Curve, since = -Infinity, until = Infinity): number {
  let sum = 0;
  for (let k = 1; k < pieces.length; k++) {
    const from = time[pieces[k - 1][1] - 1];
    const to = time[pieces[k][0]];
    // Between two pieces lies either, seldom both: then the longer part rules.
    const beyond = outside.some((span) => span.from < to && span.to > from);
    if (!beyond) sum += Math.max(0, Math.min(to, until) - Math.max(from, since));
  }
  return sum;
}

/** Time in which the channel may have been above its range (side 1) or below it (−1), s. */
export function outsideTime({ outside }: Curve, side: 1 | -1): number {
  return outside.reduce((sum, span) => sum + (span.side === -side ? 0 : span.to - span.from), 0);
}
