import { alignWaveforms } from "./align.ts";
import type { Channel } from "./channels.ts";
import type { LineCurve } from "./curve.ts";
import { edgesOf } from "./edges.ts";
import { likenessNear } from "./likeness.ts";

/** Times read in a unit that is a thousand times too large, or too small. */
const FACTORS = [
  [1e-3, "divided by 1000"],
  [1e3, "times 1000"],
] as const;
/** So alike with so many edges in their places is no chance. */
const SURE = 0.9;
const EDGES = 3;

/** What to do where a capture looks like the run once its times are taken in another unit; null where it does not. */
export function timeAxisHint({ curve, level, interval, off }: Channel, line: LineCurve): string | null {
  for (const [factor, words] of FACTORS) {
    const scaled = { time: curve.time.map((t) => t * factor), values: curve.values };
    const { first } = alignWaveforms(scaled, line, off);
    if (first === null || level === null) continue;
    const edges = edgesOf(line, level, 0).slice(first[1]);
    const seen = edgesOf(scaled, level, off);
    const knots = seen.flatMap(({ time }, k) => (k < edges.length ? [[time, edges[k].time] as const] : []));
    if (knots.length >= EDGES && likenessNear(scaled, line, knots, interval * factor) > SURE)
      return `With its times ${words} the capture looks like the run: write the unit of its times into the head of their column.`;
  }
  return null;
}
