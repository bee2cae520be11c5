import type { Curve } from "./curve.ts";

/** Noise of more than this share of a step shows as such. */
const SHOWS = 0.35;

/**
 * Noise that steps hide, V or A. Where σ is a fraction of a step q, most values stand on one step and the variance seen says nothing (Widrow & Kollár,
 * "Quantization Noise", 2008, chapter 4: q²/12 may be taken off from about q/3 on). But single samples stand a step beside their equal neighbours: by a level
 * in the middle of its step noise leaves it with the probability p = 2·Q(q/2σ), and no level makes it leave more seldom.
 */
export function hiddenNoise({ values, pieces }: Curve, quantum: number): number {
  let equal = 0;
  let beside = 0;
  for (const [first, end] of pieces)
    for (let i = first + 1; i + 1 < end; i++) {
      if (Math.abs(values[i - 1] - values[i + 1]) > 0.5 * quantum) continue;
      equal++;
      const off = Math.abs(values[i] - values[i - 1]);
      if (off > 0.5 * quantum && off < 1.5 * quantum) beside++;
    }
  return beside === 0 ? 0 : quantum * Math.min(SHOWS, 0.5 / Math.max(0.1, upperQuantile(beside / equal / 2)));
}

/** What a normal deviate exceeds with the probability q (Abramowitz & Stegun, 26.2.22, to 0.003). */
function upperQuantile(q: number): number {
  const t = Math.sqrt(-2 * Math.log(q));
  return t - (2.30753 + 0.27061 * t) / (1 + 0.99229 * t + 0.04481 * t * t);
}
