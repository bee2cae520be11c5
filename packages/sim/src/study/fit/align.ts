import { LineCurve } from "./curve.ts";
import { type EdgeLevel, edgeLevel, edgesOf } from "./edges.ts";
import { fourier, powerOfTwo } from "./fourier.ts";

/** Times never falling, s, and as many values, V or A. */
export interface Waveform {
  /** s, never falling. */
  readonly time: Float64Array;
  /** V or A, as many as times. */
  readonly values: Float64Array;
}

/** How a capture was laid on a run in time. */
export interface Alignment {
  /** What has to be added to the capture's times to get times of the run, s. */
  readonly shift: number;
  /** An edge of the one laid on an edge of the other, or the best likeness over all shifts. */
  readonly by: "threshold" | "correlation";
  /** Likeness of the two at this shift, −1 … 1: Pearson's coefficient. */
  readonly likeness: number;
  /** The same with the run's times bent so that its edges lie on the capture's, times the share of edges that found their like: how sure this place is. */
  readonly score: number;
  /** The first edges of the two that were laid on each other; null where the likeness alone decided. */
  readonly first: readonly [captured: number, simulated: number] | null;
  /** Other places in the run, a round or more away, where the capture lies as well: which of them it is cannot be told. */
  readonly alike: number;
}

/** Points at which likeness is looked at; fewer where the run is many times as long as the capture, and how many times at most. */
const POINTS = 2048;
const LEAST_POINTS = 64;
const MOST_IN_ALL = 1 << 17;
const MOST_LENGTHS = 4096;
/** By what share more is left at a place that counts as being as good as the best one: of such places the first is taken. */
const AS_GOOD = 0.02;
/** A place whose score is less by no more than this is as good as the best one. */
const ALIKE = 0.01;
/** Of its length so much of a capture may lie before a run's beginning, where all is as it was, or behind its end. */
const BEFORE = 1;
const BEHIND = 0.75;

/**
 * Lays a captured waveform on a simulated one.
 *
 * By threshold: the capture's first edge (from well below the middle of its range to well above, or the other way) on that edge of the simulated one with which the
 * two look most alike. By correlation: the shift at which the squares of what is left have the smallest sum, all of them at once by Fourier's transform, refined by a
 * parabola; so levels count, by which alone one stretch of a ramp differs from the next.
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
  let best: Alignment | null = null;
  const scores: number[] = [];
  for (const [k, edge] of edges.entries()) {
    if (edge.sign !== first.sign) continue;
    const shift = edge.time - first.time;
    const pairs = seen.flatMap(({ time }, j) => (k + j < edges.length ? [[time, edges[k + j].time] as const] : []));
    const score = (likenessOf(captured, curve, bendingBy(pairs)) * pairs.length) / seen.length;
    scores.push(score);
    if (best !== null && score <= best.score + 1e-3) continue;
    best = { shift, by: "threshold", likeness: likenessAt(captured, curve, shift), first: [0, k], score, alike: 0 };
  }
  if (best === null) return null;
  const { score: most } = best;
  return { ...best, alike: scores.filter((score) => score > most - ALIKE).length - 1 };
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

/** The same with the run's times bent so that each knot's second time lies on its first. */
export function likenessBent(
  captured: Waveform,
  simulated: LineCurve,
  knots: readonly (readonly [from: number, to: number])[],
): number {
  return likenessOf(captured, simulated, bendingBy(knots));
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
  const s0 = simulated.time[0];
  const s1 = Math.min(simulated.time[simulated.time.length - 1], s0 + MOST_LENGTHS * (c1 - c0));
  const lengths = (s1 - s0) / (c1 - c0) + BEFORE + BEHIND;
  const points = Math.round(Math.min(POINTS, Math.max(LEAST_POINTS, MOST_IN_ALL / lengths)));
  const step = (c1 - c0) / points;
  const many = Math.max(points + 2, Math.ceil(lengths * points));
  const begin = s0 - BEFORE * (c1 - c0);
  const size = powerOfTwo(points + many);
  const level = captured.values.reduce((sum, value) => sum + value / captured.values.length, 0);
  const own = sampled(captured, level, c0, step, points, size);
  const other = sampled(simulated, level, begin, step, many, size);
  const squares = new Float64Array(many + 1);
  for (let k = 0; k < many; k++) squares[k + 1] = squares[k] + other.re[k] ** 2;
  const ofOwn = own.re.reduce((sum, each) => sum + each * each, 0);
  fourier(own.re, own.im);
  fourier(other.re, other.im);
  // conj(own)·other, transformed back by the same transform of the conjugate.
  const re = own.re.map((x, k) => x * other.re[k] + own.im[k] * other.im[k]);
  const im = own.re.map((x, k) => own.im[k] * other.re[k] - x * other.im[k]);
  fourier(re, im);
  const left = Float64Array.from({ length: many - points + 1 }, (_, k) =>
    Math.max(0, ofOwn - (2 * re[k]) / size + squares[k + points] - squares[k]),
  );
  const least = left.reduce((min, each) => Math.min(min, each), Number.POSITIVE_INFINITY);
  let at = left.findIndex((each) => each <= (1 + AS_GOOD) * least);
  const beyond = Math.min(left.length, at + points / 16);
  for (let k = at; k < beyond; k++) if (left[k] < left[at]) at = k;
  const [before, here, after] = [left[at - 1] ?? left[at], left[at], left[at + 1] ?? left[at]];
  const bend = before - 2 * here + after;
  const off = bend > 0 ? Math.max(-0.5, Math.min(0.5, (0.5 * (before - after)) / bend)) : 0;
  const shift = begin + (at + off) * step - c0;
  const likeness = likenessAt(captured, new LineCurve(simulated.time, simulated.values), shift);
  return { shift, by: "correlation", likeness, score: likeness, first: null, alike: 0 };
}

/** Means over equal steps, less a level that both have in common. */
function sampled({ time, values }: Waveform, level: number, from: number, step: number, count: number, size: number) {
  const curve = new LineCurve(time, values);
  const re = new Float64Array(size);
  for (let k = 0; k < count; k++) re[k] = curve.mean(from + (k + 0.5) * step, step) - level;
  return { re, im: new Float64Array(size) };
}
