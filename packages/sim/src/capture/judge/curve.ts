import type { CapturedChannel } from "../types.ts";

/** A channel without its gaps: straight lines from sample to sample within each piece, nothing known between pieces. */
export interface Curve {
  /** s, never falling; the channel's own times. */
  readonly time: Float64Array;
  readonly values: Float64Array;
  /** First sample of each piece and the one after its last. */
  readonly pieces: readonly (readonly [first: number, end: number])[];
  /** Usual time between two samples, s. */
  readonly interval: number;
}

/** Empty cells over more than so many usual steps are a gap: shorter ones are bridged, for loggers often fill a slow channel's column in every few lines only. */
const BRIDGED = 3;

/**
 * @param time of all rows, s, never falling
 * @param interval usual time between two rows, s
 */
export function curveOf(time: Float64Array, channel: CapturedChannel, interval: number): Curve {
  const { values, gaps, outOfRange, layout } = channel;
  const { deskew } = layout;
  if (gaps + outOfRange === 0) {
    const own = deskew === 0 ? time : time.map((t) => t - deskew);
    return { time: own, values, pieces: [[0, values.length]], interval };
  }
  const count = values.reduce((sum, value) => sum + (Number.isNaN(value) ? 0 : 1), 0);
  const own = new Float64Array(count);
  const kept = new Float64Array(count);
  const pieces: [number, number][] = [];
  const usual = (interval * values.length) / Math.max(1, count);
  let at = 0;
  let first = 0;
  for (let i = 0, last = -1; i < values.length; i++) {
    if (Number.isNaN(values[i])) continue;
    if (last >= 0 && i > last + 1 && time[i] - time[last] > BRIDGED * Math.max(interval, usual)) {
      pieces.push([first, at]);
      first = at;
    }
    own[at] = time[i] - deskew;
    kept[at] = values[i];
    at++;
    last = i;
  }
  pieces.push([first, at]);
  return { time: own, values: kept, pieces, interval: Math.max(interval, usual) };
}

/** Time between the first and the last sample of which nothing is known, s. */
export function unseenTime({ time, pieces }: Curve): number {
  let sum = 0;
  for (let k = 1; k < pieces.length; k++) sum += time[pieces[k][0]] - time[pieces[k - 1][1] - 1];
  return sum;
}
