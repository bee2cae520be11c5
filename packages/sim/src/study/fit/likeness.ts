import { likenessAt, likenessBent, type Waveform } from "./align.ts";
import type { LineCurve } from "./curve.ts";
import type { Found, Ground } from "./search.ts";

/** An edge of the run may lie off its like by this share of its distance from the first one, and by so many samples: rounds of a slightly other length are the same rounds. */
const DRIFT = 0.15;
const DRIFT_SAMPLES = 3;

/** Likeness of each channel and its column, −1 … 1: with edges laid on each other where they lie near each other. */
export function likenesses(
  { channels, pairs }: Ground,
  { own, simulated }: Pick<Found, "own" | "simulated">,
): number[] {
  return channels.map(({ curve, interval }, c) => {
    const knots = pairs.flatMap(({ channel, edge, place }) => {
      const like = channel === c ? simulated.edges[c][place] : undefined;
      return like === undefined ? [] : [[edge.time, like.time] as const];
    });
    const plain = likenessAt(curve, simulated.lines[c], own.shift + own.lags[c]);
    return Math.max(plain, likenessNear(curve, simulated.lines[c], knots, interval));
  });
}

/** Likeness with edges laid on each other; −1 where they lie too far from each other to be the same, or there is none. */
export function likenessNear(
  curve: Waveform,
  line: LineCurve,
  knots: readonly (readonly [captured: number, simulated: number])[],
  interval: number,
): number {
  const [first] = knots;
  if (first === undefined) return -1;
  const isNear = knots.every(([from, to]) => {
    const far = from - first[0];
    return Math.abs(to - first[1] - far) < DRIFT * far + DRIFT_SAMPLES * interval;
  });
  return isNear ? likenessBent(curve, line, knots) : -1;
}
