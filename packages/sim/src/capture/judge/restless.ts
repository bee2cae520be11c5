import type { Curve } from "./curve.ts";

/** Differences that are looked at. */
const LOOKED_AT = 50_000;
/** Of a normal deviate: its standard deviation over the median of its size. */
const OF_MEDIAN = 1.4826;
/** Differences of another order count where they show so much less than those of the second: then what these show is the curve. */
const CLEARLY = 0.8;
/** Differences that spread over fewer steps than these fill them too unevenly for a median: then their squares tell, of all within so many of it. */
const COARSE = 2.5;
const WITHIN = 4.5;
const MOST_OF_THEM = 0.9;
/** Weights of samples one after the other, and the root of the sum of their squares. */
const ORDERS = [
  { weights: [1, -1], norm: Math.SQRT2 },
  { weights: [1, -2, 1], norm: Math.sqrt(6) },
  { weights: [1, -4, 6, -4, 1], norm: Math.sqrt(70) },
] as const;

/**
 * Noise from sample to sample, rounding included: standard deviation by the median of second differences, in which slopes are nothing, ripple is little and edges are few; of first ones where edges follow each other closely, of fourth ones where ripple is coarse. A
 * difference of white noise with the weights w has σ·√Σw² (√2, √6, √70). Rounded ones stand on steps: within the step that holds the median it is
 * placed by its share, and what that spreads them by, q²/12, is taken off again (Sheppard's correction; Kendall & Stuart, "The Advanced Theory of Statistics", 1, 3.18).
 *
 * @param step in which values are written, V or A; 0: none
 * @param skip first sample that is left out, and the one after the last
 */
export function restlessness(curve: Curve, step: number, skip: readonly [number, number] = [0, 0]): number {
  const [first, second, fourth] = ORDERS.map(({ weights, norm }) => spreadOf(curve, weights, step, skip) / norm);
  const least = Math.min(first, fourth);
  return least < CLEARLY * second ? least : second;
}

function spreadOf(
  { values, pieces }: Curve,
  weights: readonly number[],
  step: number,
  [from, to]: readonly [number, number],
): number {
  const every = Math.max(1, Math.floor(values.length / LOOKED_AT));
  const last = weights.length - 1;
  const all = new Float64Array(
    pieces.reduce((sum, [first, end]) => sum + Math.ceil(Math.max(0, end - first) / every), 0),
  );
  let count = 0;
  for (const [first, end] of pieces)
    for (let i = first; i + last < end; i += every) {
      if (i + last >= from && i < to) continue;
      let sum = 0;
      for (let k = 0; k <= last; k++) sum += weights[k] * values[i + k];
      all[count++] = Math.abs(sum);
    }
  if (count === 0) return 0;
  const sizes = all.subarray(0, count).sort();
  const spread = OF_MEDIAN * medianOf(sizes, step);
  if (spread < COARSE * step) {
    const square = meanSquare(sizes, WITHIN * Math.max(spread, step));
    if (square !== null) return Math.sqrt(square);
  }
  return Math.sqrt(Math.max(0, spread ** 2 - step ** 2 / 12));
}

/** Of the sizes up to `most`; null where too many are larger. */
function meanSquare(sorted: Float64Array, most: number): number | null {
  let [sum, count] = [0, 0];
  while (count < sorted.length && sorted[count] <= most) sum += sorted[count++] ** 2;
  return count < MOST_OF_THEM * sorted.length ? null : sum / count;
}

function medianOf(sorted: Float64Array, step: number): number {
  const half = 0.5 * sorted.length;
  const middle = sorted[sorted.length >> 1];
  if (!(step > 0)) return middle;
  const below = sorted.findIndex((each) => each > middle - 0.5 * step);
  const beyond = sorted.findIndex((each) => each > middle + 0.5 * step);
  const share = (half - below) / ((beyond < 0 ? sorted.length : beyond) - below);
  // Sizes about 0 fill half a step only.
  return middle < 0.5 * step ? 0.5 * step * share : middle + step * (share - 0.5);
}
