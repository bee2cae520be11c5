import { aboveRuns } from "./abrupt.ts";
import type { Curve } from "./curve.ts";
import { restlessness } from "./restless.ts";
import type { FlatTop, Resolution } from "./types.ts";

/** So many equal samples one after the other make a top flat. */
const FLAT = 5;
/** A difference of two samples that is larger than so many steps and standard deviations of noise is one of what they show. */
const STEPS = 2.5;
const DEVIATIONS = 4;
/** Where fewer neighbours are two steps or more apart, noise may be so small that only values halfway between two steps are moved by it. */
const FAR = 0.003;
/** Different values by which no step is told. */
const FEW = 4;
/** Chances below this are none. */
const NEVER = 1e-4;

/** First sample of the longest run of highest values, and the one after its last. */
export function highestRun({ values, pieces }: Curve): readonly [first: number, end: number] {
  let top = -Infinity;
  for (const value of values) if (value > top) top = value;
  let best: readonly [number, number] = [0, 0];
  for (const [first, end] of pieces)
    for (let i = first; i < end; i++) {
      if (values[i] !== top) continue;
      const from = i;
      while (i < end && values[i] === top) i++;
      if (i - from > best[1] - best[0]) best = [from, i];
    }
  return best;
}

/**
 * A top that is held to the digit. An instrument that is overdriven shows the end of its range, and so may a steady voltage; but where noise moves a value by
 * more than half a step with a probability of 1 − p, n equal ones have one of pⁿ.
 */
export function flatTopOf(curve: Curve, resolution: Resolution): FlatTop | null {
  const [first, end] = highestRun(curve);
  const samples = end - first;
  if (samples === curve.values.length) return null;
  const step = Math.max(resolution.quantum ?? 0, resolution.between ?? 0, curve.digit);
  const beside = restlessness(curve, step, [first, end]);
  const sigma = Math.min(resolution.alone, Math.sqrt(Math.max(0, beside ** 2 - step ** 2 / 12)));
  const stays = sigma > 0 ? Math.min(1, step / (sigma * Math.sqrt(2 * Math.PI))) : 1;
  const clipped = samples >= FLAT && farApart(curve, step) > FAR && curve.values.length * stays ** samples < NEVER;
  // What so few values have in common may be many steps, unless noise moves them by single ones.
  const least = resolution.alone === 0 && areFew(curve) ? curve.digit : step;
  const off = STEPS * least + DEVIATIONS * sigma;
  const above = aboveRuns(curve, curve.values[first], { step: least, sigma, off });
  return samples >= FLAT || above > 0
    ? { samples, time: curve.time[first], clipped, above, abrupt: above > off }
    : null;
}

function areFew({ values }: Curve): boolean {
  const different = new Set<number>();
  for (const value of values) if (different.add(value).size > FEW) return false;
  return true;
}

/** Share of neighbours that are two steps or more apart. */
function farApart({ values, pieces }: Curve, step: number): number {
  let far = 0;
  for (const [first, end] of pieces)
    for (let i = first + 1; i < end; i++) if (Math.abs(values[i] - values[i - 1]) > 1.5 * step) far++;
  return far / values.length;
}
