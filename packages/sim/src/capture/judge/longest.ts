import type { Curve } from "./curve.ts";
import { stretchesBeyond } from "./edges.ts";
import type { Measured } from "./types.ts";

/** Over so many samples means are taken, one after the other. */
const SCALES = [1, 4, 16, 64, 256, 1024] as const;
/** What is farther from a level than so many standard deviations of noise never passes it by chance. */
const NEAR = 6;

/** A longest stretch, and in how many the curve is beyond its level. */
interface Longest {
  readonly longest: Measured;
  readonly times: number;
}

/**
 * The longest stretch beyond a level where noise passes that level again and again. One excursion then looks like many, each of them too short. Of n samples near a level noise
 * moves none by more than some σ·√(2·ln n) (Cramér, "Mathematical Methods of Statistics", 1946, 28.6), of means over m samples by a √m-th of that: so the stretch lies between
 * those of a level that is so much harder and so much easier to pass, each end known to half a mean's length. The mean's length that leaves least open is taken. A single sample
 * that is surely not beyond ends a stretch at any length.
 *
 * @param own the stretch as it was found with the samples as they are: it stands where no noise passes the level
 */
export function longestBeyond(curve: Curve, level: number, sign: 1 | -1, sigma: number, own: Longest): Longest {
  if (!(sigma > 0)) return own;
  let near = 0;
  for (const value of curve.values) if (Math.abs(value - level) < NEAR * sigma) near++;
  const moved = sigma * (1 + Math.sqrt(2 * Math.log(Math.max(2, near))));
  const count = (by: number): number => stretchesBeyond(curve, level + sign * by, sign).count;
  if (count(moved) === own.times && count(-moved) === own.times) return own;
  let best: Longest | null = null;
  for (const scale of SCALES) {
    if (2 * scale > curve.values.length) break;
    const values = means(curve, scale, level, sign, moved);
    const far = (sign * moved) / Math.sqrt(scale);
    const ends = scale * curve.timing;
    const least = Math.max(0, stretchesBeyond({ ...curve, values }, level + far, sign).longest - ends);
    const { longest } = stretchesBeyond({ ...curve, values }, level - far, sign);
    const plusMinus = 0.5 * (longest + ends - least);
    if (best !== null && plusMinus >= best.longest.plusMinus) continue;
    const times = passes({ ...curve, values }, level, level - far, sign);
    best = { longest: { value: least + plusMinus, plusMinus }, times: Math.max(Math.min(1, own.times), times) };
  }
  return best ?? own;
}

/** How often a curve passes a level, having been back behind another one in between. */
function passes({ values, pieces }: Curve, level: number, back: number, sign: 1 | -1): number {
  let count = 0;
  for (const [first, end] of pieces) {
    let beyond = false;
    for (let i = first; i < end; i++) {
      if (!beyond && sign * (values[i] - level) > 0) {
        beyond = true;
        count++;
      } else if (sign * (values[i] - back) < 0) beyond = false;
    }
  }
  return count;
}

/** Means over `scale` samples about each; the sample itself where it is surely not beyond the level. */
function means({ values, pieces }: Curve, scale: number, level: number, sign: 1 | -1, moved: number): Float64Array {
  const out = new Float64Array(values.length);
  const half = scale >> 1;
  for (const [first, end] of pieces) {
    let [from, to, sum] = [first, first, 0];
    for (let i = first; i < end; i++) {
      while (to < end && to < i - half + scale) sum += values[to++];
      while (from < i - half) sum -= values[from++];
      out[i] = sign * (values[i] - level) < -moved ? values[i] : sum / (to - from);
    }
  }
  return out;
}
