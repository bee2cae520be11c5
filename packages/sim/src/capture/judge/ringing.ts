import type { Curve } from "./curve.ts";
import type { Resolution, Ringing, Slope } from "./types.ts";

/** Samples after an edge in which ringing is looked for. */
const LOOKED_AT = 100_000;
/** Crests and troughs that make a ringing, and by how much a half period may differ from the first one. */
const LEAST_TURNS = 4;
const EVEN = 0.35;
/** A swing counts that is larger than so many uncertainties of a value. */
const UNCERTAINTIES = 6;
/** A decay that may be off by more than this share of itself is none that was seen: rounds of a supply that goes on and off do not die away. */
const KNOWN = 0.7;
/** Ringing begins within so many half periods of its edge. */
const SOON = 2;
/** A swing that is no smaller than this share of the one before is no decay. */
const DECAY = 1.02;

interface Turn {
  readonly time: number;
  readonly value: number;
}

/** Student's t for 95 % at 2, 3, 4 … degrees of freedom (JCGM 100:2008, table G.2). */
const STUDENT = [4.3, 3.18, 2.78, 2.57, 2.45, 2.36, 2.31, 2.26, 2.23, 2.2, 2.18, 2.16, 2.14, 2.13] as const;

/**
 * A decaying oscillation after an edge: its crests and troughs lie half a period apart, and the swings between them shrink as exp(−t/τ), both exactly for
 * e^(−t/τ)·cos(ωt) about any level. Straight lines by least squares through their times and through the logarithms of the swings, each with the square of its
 * swing as its weight, for noise moves a small crest further; the uncertainties are those of the slopes (Bevington & Robinson, "Data Reduction and Error
 * Analysis", 3rd ed., 6.4), times Student's t for so few points.
 *
 * @param edge the steepest slope, after which it may ring
 * @returns null where fewer than four crests and troughs stand out of the noise
 */
export function ringingAfter(curve: Curve, edge: Slope, { ofValue }: Resolution): Ringing | null {
  const turns = evenPart(turnsAfter(curve, edge, UNCERTAINTIES * ofValue));
  if (turns.length < LEAST_TURNS) return null;
  const swings = turns.slice(1).map(({ value }, index) => Math.abs(value - turns[index].value));
  const weights = swings.map((swing) => swing ** 2);
  const half = line(
    turns.map((_, index) => index),
    turns.map(({ time }) => time),
    [weights[0], ...weights],
  );
  const decay = line(
    turns.slice(1).map(({ time }, index) => 0.5 * (time + turns[index].time)),
    swings.map(Math.log),
    weights,
  );
  if (!(half.slope > 0) || !(decay.slope < 0)) return null;
  const frequency = 1 / (2 * half.slope);
  const tau = -1 / decay.slope;
  // Neighbouring swings share a turn: that doubles the variance of a slope through them (JCGM 100:2008, 5.2.2).
  const ofDecay = Math.SQRT2 * tau * tau * decay.error;
  if (ofDecay > KNOWN * tau || turns[0].time - (edge.time + edge.over) > SOON * half.slope) return null;
  return {
    time: turns[0].time,
    frequency: { value: frequency, plusMinus: (frequency * half.error) / half.slope },
    decay: { value: tau, plusMinus: ofDecay },
    swing: swings[0],
    halfPeriods: swings.length,
  };
}

/** Crests and troughs after the edge, each told by a way back of more than `least`. */
function turnsAfter({ time, values, pieces }: Curve, edge: Slope, least: number): Turn[] {
  const piece = pieces.find(([, end]) => time[end - 1] >= edge.time);
  if (piece === undefined) return [];
  let from = piece[0];
  while (from < piece[1] && time[from] < edge.time) from++;
  const end = Math.min(piece[1], from + LOOKED_AT);
  const wayBack = Math.max(least, 0.01 * Math.abs(edge.value * edge.over));
  const places: number[] = [];
  let rising = edge.value > 0;
  let extreme = from;
  for (let i = from; i < end; i++) {
    const beyond = rising ? values[i] > values[extreme] : values[i] < values[extreme];
    if (beyond) extreme = i;
    else if (Math.abs(values[i] - values[extreme]) > wayBack) {
      places.push(extreme);
      rising = !rising;
      extreme = i;
    }
  }
  return places.map((place, index) => {
    const next = places[index + 1] ?? place + (place - (places[index - 1] ?? place));
    const width = Math.max(1, Math.floor(Math.abs(next - place) / 4));
    // Noise may have made the largest sample one that lies beside the crest: once more about what was found.
    const first = vertex(time, values, place, width);
    return vertex(time, values, first.nearest, width);
  });
}

/** Crest of a parabola by least squares through the samples around it. */
function vertex(time: Float64Array, values: Float64Array, at: number, width: number): Turn & { nearest: number } {
  const w = Math.min(width, at, values.length - 1 - at);
  if (w < 1) return { time: time[at], value: values[at], nearest: at };
  let [s0, s1, s2] = [0, 0, 0];
  for (let k = -w; k <= w; k++) {
    s0 += values[at + k];
    s1 += k * values[at + k];
    s2 += k * k * values[at + k];
  }
  const n = 2 * w + 1;
  const m2 = (n * (n * n - 1)) / 12;
  const m4 = (m2 * (3 * n * n - 7)) / 20;
  const b = s1 / m2;
  const c = (s2 - (m2 / n) * s0) / (m4 - (m2 * m2) / n);
  const a = (s0 - c * m2) / n;
  const x = Math.max(-w, Math.min(w, c === 0 ? 0 : -b / (2 * c)));
  const step = (time[at + w] - time[at - w]) / (2 * w);
  return { time: time[at] + x * step, value: a + x * (b + c * x), nearest: at + Math.round(x) };
}

/** From the first turn on, as long as half periods stay alike and swings shrink. */
function evenPart(turns: readonly Turn[]): readonly Turn[] {
  for (let first = 0; first + LEAST_TURNS <= turns.length && first < 3; first++) {
    const half = turns[first + 1].time - turns[first].time;
    let last = first + 1;
    while (last + 1 < turns.length) {
      const next = turns[last + 1].time - turns[last].time;
      const swing = Math.abs(turns[last + 1].value - turns[last].value);
      const before = Math.abs(turns[last].value - turns[last - 1].value);
      if (Math.abs(next - half) > EVEN * half || swing > DECAY * before) break;
      last++;
    }
    if (last - first + 1 >= LEAST_TURNS) return turns.slice(first, last + 1);
  }
  return [];
}

/** Weighted least squares of a straight line; `error`: what its slope may be off by, 95 %. */
function line(
  x: readonly number[],
  y: readonly number[],
  weights: readonly number[],
): { slope: number; error: number } {
  let [w, wx, wy] = [0, 0, 0];
  for (let k = 0; k < x.length; k++) {
    w += weights[k];
    wx += weights[k] * x[k];
    wy += weights[k] * y[k];
  }
  const [mx, my] = [wx / w, wy / w];
  let [xx, xy] = [0, 0];
  for (let k = 0; k < x.length; k++) {
    xx += weights[k] * (x[k] - mx) ** 2;
    xy += weights[k] * (x[k] - mx) * (y[k] - my);
  }
  const slope = xy / xx;
  let left = 0;
  for (let k = 0; k < x.length; k++) left += weights[k] * (y[k] - my - slope * (x[k] - mx)) ** 2;
  const free = x.length - 2;
  const factor = STUDENT[free - 2] ?? (free < 2 ? 12.71 : 2);
  return { slope, error: factor * Math.sqrt(left / free / xx) };
}
