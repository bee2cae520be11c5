import { alignWaveforms } from "./align.ts";
import type { Channel } from "./channels.ts";
import type { LineCurve } from "./curve.ts";
import { edgeLevel } from "./edges.ts";

/** By what a channel's values are to be multiplied, and why. */
export interface Scale {
  readonly factor: number;
  readonly sentence: string;
}

/** What a channel may show its values as, and how that comes about. */
const FACTORS = [
  [10, "times 10", "was the probe set to 10×?"],
  [0.1, "divided by 10", "is the probe's attenuation in them twice?"],
  [-1, "turned over", "are plus and minus the wrong way round?"],
] as const;
/** So alike, and swinging through as much, is no chance. */
const SURE = 0.9;
const AS_LARGE = 1.4;

/** What to do where a channel looks like the run once its values are taken times ten, divided by it, or turned over; null where that is no better. */
export function gainHint({ name, curve, off }: Channel, line: LineCurve): Scale | null {
  const fits = (factor: number): boolean => {
    const scaled = { time: curve.time, values: curve.values.map((value) => factor * value) };
    const { score, shift } = alignWaveforms(scaled, line, Math.abs(factor) * off);
    const there = edgeLevel(
      curve.time.map((t) => line.at(t + shift)),
      0,
    );
    const own = edgeLevel(scaled.values, 0);
    if (score < SURE || there === null || own === null) return false;
    const ratio = own.span / there.span;
    return ratio < AS_LARGE && ratio > 1 / AS_LARGE;
  };
  if (fits(1)) return null;
  for (const [factor, words, why] of FACTORS)
    if (fits(factor))
      return {
        factor,
        sentence: `With the values of "${name}" ${words} the capture looks like the run: ${why}`,
      };
  return null;
}
