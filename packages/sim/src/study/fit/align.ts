import { LineCurve } from "./curve.ts";
import { type EdgeLevel, edgeLevel, edgesOf } from "./edges.ts";
import { fourier, powerOfTwo } from "./fourier.ts";

/** Times never falling, s, and as many values, V or A. */
export interface Waveform {
  readonly time: Float64Array;
  readonly values: Float64Array;
}

export interface Alignment {
  /** What has to be added to the capture's times to get times of the run, s. */
  readonly shift: number;
  /** An edge of the one laid on an edge of the other, or the best likeness over all shifts. */
  readonly by: "threshold" | "correlation";
  /** Likeness of the two at this shift, −1 … 1: Pearson's coefficient. */
  readonly likeness: number;
  /** The first edges of the two that were laid on each other; null where the likeness alone decided. */
  readonly first: readonly [captured: number, simulated: number] | null;
}

/** Points at which likeness is looked at. */
const POINTS = 2048;

/**
 * Lays a captured waveform on a simulated one.
 *
 * By threshold: the capture's first edge (from well below the middle of its range to well above, or the other way) on that edge of the simulated one with which the
 * two look most alike. By correlation: the shift with the largest coefficient, all of them at once by Fourier's transform, refined by a parabola.
 *
 * @param captured as recorded, in its own times
 * @param simulated of a run, in the run's times
 * @param off standard uncertainty of a captured value, V or A; what swings by less than twelve of it has no edges
 * @param by `threshold` falls back to correlation where either has no edge
 * @example alignWaveforms(captured, { time: trace.time, values: column.values }, 0.03).shift // 0.0199
 */
export function alignWaveforms(
  captured: Waveform,
  simulated: Waveform,
  off: number,
  by: Alignment["by"] = "threshold",
): Alignment {
  const level = edgeLevel(captured.values, off);
  const found = by === "threshold" && level !== null ? byThreshold(captured, simulated, level, off) : null;
  return found ?? byCorrelation(captured, simulated);
}

/**
 * Edges follow each other in both alike: each edge of the run is tried as the like of the capture's first one, the run's times bent so that all that follow lie on
 * each other, too. So rounds of another length are still found to be the same rounds.
 */
function byThreshold(captured: Waveform, simulated: Waveform, level: EdgeLevel, off: number): Alignment | null {
  const seen = edgesOf(captured, level, off);
  const [first] = seen;
  if (first === undefined) return null;
  const curve = new LineCurve(simulated.time, simulated.values);
  const edges = edgesOf(simulated, level, 0);
  let best: (Alignment & { readonly score: number }) | null = null;
  for (const [k, edge] of edges.entries()) {
    if (edge.sign !== first.sign) continue;
    const shift = edge.time - first.time;
    const pairs = seen.flatMap(({ time }, j) => (k + j < edges.length ? [[time, edges[k + j].time] as const] : []));
    const score = (likenessOf(captured, curve, bendingBy(pairs)) * pairs.length) / seen.length;
    if (best !== null && score <= best.score + 1e-3) continue;
    best = { shift, by: "threshold", likeness: likenessAt(captured, curve, shift), first: [0, k], score };
  }
  if (best === null) return null;
  const { shift, by, likeness, first: laid } = best;
  return { shift, by, likeness, first: laid };
}

/** A map of times that takes each first time to its second, straight in between and with the same pace outside. */
export function bendingBy(knots: readonly (readonly [from: number, to: number])[]): (t: number) => number {
  return (t) => {
    if (knots.length === 0) return t;
    let k = 0;
    while (k + 1 < knots.length && knots[k + 1][0] <= t) k++;
    const [a, b] = knots[k];
    const next = knots[k + 1];
    if (t < a || next === undefined) return b + (t - a);
    return b + ((t - a) / (next[0] - a)) * (next[1] - b);
  };
}

/** Pearson's coefficient of the capture's values and the simulated ones at the shifted times. */
export function likenessAt(captured: Waveform, simulated: LineCurve, shift: number): number {
  return likenessOf(captured, simulated, (t) => t + shift);
}

function likenessOf({ time, values }: Waveform, simulated: LineCurve, timeOf: (t: number) => number): number {
  const every = Math.max(1, Math.floor(values.length / POINTS));
  let [n, a, b, aa, bb, ab] = [0, 0, 0, 0, 0, 0];
  for (let i = 0; i < values.length; i += every) {
    const x = values[i];
    const y = simulated.at(timeOf(time[i]));
    n++;
    a += x;
    b += y;
    aa += x * x;
    bb += y * y;
    ab += x * y;
  }
  const spread = (aa - (a * a) / n) * (bb - (b * b) / n);
  return spread > 1e-18 * aa * bb ? (ab - (a * b) / n) / Math.sqrt(spread) : 0;
}

function byCorrelation(captured: Waveform, simulated: Waveform): Alignment {
  const [c0, c1] = [captured.time[0], captured.time[captured.time.length - 1]];
  const [s0, s1] = [simulated.time[0], simulated.time[simulated.time.length - 1]];
  const step = (c1 - c0) / POINTS;
  const many = Math.min(16 * POINTS, Math.max(2, Math.ceil((s1 - s0) / step)));
  const size = powerOfTwo(POINTS + many);
  const own = sampled(captured, c0, step, POINTS, size);
  const other = sampled(simulated, s0, step, many, size);
  fourier(own.re, own.im);
  fourier(other.re, other.im);
  // conj(own)·other, transformed back by the same transform of the conjugate.
  const re = own.re.map((x, k) => x * other.re[k] + own.im[k] * other.im[k]);
  const im = own.re.map((x, k) => own.im[k] * other.re[k] - x * other.im[k]);
  fourier(re, im);
  let at = 0;
  for (let k = 0; k < Math.max(1, many - POINTS / 4); k++) if (re[k] > re[at]) at = k;
  const [left, middle, right] = [re[(at + size - 1) % size], re[at], re[(at + 1) % size]];
  const bend = left - 2 * middle + right;
  const off = bend < 0 ? Math.max(-0.5, Math.min(0.5, (0.5 * (left - right)) / bend)) : 0;
  const shift = s0 + (at + off) * step - c0;
  const curve = new LineCurve(simulated.time, simulated.values);
  return { shift, by: "correlation", likeness: likenessAt(captured, curve, shift), first: null };
}

/** Less its mean, so that levels alone make nothing alike. */
function sampled({ time, values }: Waveform, from: number, step: number, count: number, size: number) {
  const curve = new LineCurve(time, values);
  const re = new Float64Array(size);
  let sum = 0;
  for (let k = 0; k < count; k++) {
    re[k] = curve.mean(from + (k + 0.5) * step, step);
    sum += re[k];
  }
  for (let k = 0; k < count; k++) re[k] -= sum / count;
  return { re, im: new Float64Array(size) };
}
