import type { Curve } from "./curve.ts";

/** Stretches beyond a level, their ends corrected for what straight lines make of an edge. */
export interface Stretches {
  readonly count: number;
  /** Sum of the corrections, s. */
  readonly shift: number;
  /** The longest one, corrected, s. */
  readonly longest: number;
}

/**
 * How long a curve is beyond a level, where an edge may pass it between two samples.
 *
 * A straight line puts the crossing of an edge that no sample saw where the level lies between its two values: beside a high pulse that is next to the last
 * sample before it and next to the first one after it, so both ends err to the same side. What is known: the curve comes as steeply as it came and goes on as
 * steeply as it goes on, and crosses the level somewhere between these two tangents. The middle is taken (JCGM 100:2008, 3.2.4 and 4.3.7); on a smooth curve
 * both tangents are the line itself.
 */
export function stretchesBeyond({ time, values, pieces }: Curve, level: number, sign: 1 | -1): Stretches {
  let [count, shift, longest] = [0, 0, 0];
  for (const [first, end] of pieces) {
    let since = sign * (values[first] - level) > 0 ? time[first] : Number.NaN;
    if (!Number.isNaN(since)) count++;
    for (let i = first + 1; i < end; i++) {
      const was = sign * (values[i - 1] - level) > 0;
      const is = sign * (values[i] - level) > 0;
      if (was === is) continue;
      const length = time[i] - time[i - 1];
      const line = (level - values[i - 1]) / (values[i] - values[i - 1]);
      const middle = crossing(time, values, i, level, first, end);
      const at = time[i - 1] + middle * length;
      shift += (is ? line - middle : middle - line) * length;
      if (is) {
        count++;
        since = at;
      } else longest = Math.max(longest, at - since);
    }
    if (end > first && sign * (values[end - 1] - level) > 0) longest = Math.max(longest, time[end - 1] - since);
  }
  return { count, shift, longest };
}

/** Where between the samples i − 1 and i the level is crossed, as a share of the way. */
function crossing(
  time: Float64Array,
  values: Float64Array,
  i: number,
  level: number,
  first: number,
  end: number,
): number {
  const length = time[i] - time[i - 1];
  const jump = values[i] - values[i - 1];
  const up = Math.sign(jump);
  const height = Math.abs(jump);
  const below = up * (level - values[i - 1]);
  /** What the curve would rise by in this step if it went on as in the one from k − 1 to k. */
  const asIn = (k: number): number => {
    const step = time[k] - time[k - 1];
    const rise = step > 0 ? (up * (values[k] - values[k - 1]) * length) / step : 0;
    return Math.max(0, Math.min(height, rise));
  };
  const coming = i - 2 >= first ? asIn(i - 1) : 0;
  const going = i + 1 < end ? asIn(i + 1) : 0;
  const earliest = going > 0 ? Math.max(0, 1 - (height - below) / going) : 0;
  const latest = coming > 0 ? Math.min(1, below / coming) : 1;
  return 0.5 * (earliest + latest);
}
