import type { Curve } from "./curve.ts";
import type { Resolution, Ringing, Slope } from "./types.ts";
import { crestOf, waveAround, waveAt } from "./wave.ts";

/** Samples after an edge in which ringing is looked for. */
const LOOKED_AT = 100_000;
/** Crests and troughs that make a ringing, and by how much a half period may differ from the first one. */
const LEAST_TURNS = 4;
const EVEN = 0.35;
/** A swing counts that is larger than so many uncertainties of a value. */
const UNCERTAINTIES = 6;
/** Smaller swings, in steps, are rounded alike one after the other, and would make a decay look faster than it is. */
const STEPS = 5;
/** A decay that may be off by more than this share of itself is none that was seen: rounds of a supply that goes on and off do not die away. */
const KNOWN = 0.7;
/** Ringing begins within so many half periods of its edge. */
const SOON = 2;
/**
 * With fewer samples a period what the noise of neighbouring crests has in common is seen no more: on records with a known truth intervals held it in 91 to 97 % from
 * five on, in 76 to 92 % with four.
 */
const LEAST_SAMPLES = 5;
/** Times of crests tell the period, and the period where crests are. */
const ROUNDS = 3;
/** A swing that is no smaller than this share of the one before is no decay. */
const DECAY = 1.02;

const student = (free: number): number => STUDENT[free - 2] ?? (free < 2 ? 12.71 : 2);

interface Line {
  readonly slope: number;
  readonly error: number;
  readonly at: (x: number) => number;
}

interface Turn {
  readonly time: number;
  readonly value: number;
}

/** Student's t for 95 % at 2, 3, 4 … degrees of freedom (JCGM 100:2008, table G.2). */
const STUDENT = [4.3, 3.18, 2.78, 2.57, 2.45, 2.36, 2.31, 2.26, 2.23, 2.2, 2.18, 2.16, 2.14, 2.13] as const;

/**
 * A decaying oscillation after an edge: its crests and troughs lie half a period apart, and stand off its level by A·exp(−t/τ) in turn, both exactly for
 * e^(−t/τ)·cos(ωt). A straight line by least squares through their times, each with the square of its size as its weight, for noise moves a small crest further; and
 * level, A and τ by least squares through their values, all of which noise moves alike. The uncertainties are those of what is left (Bevington & Robinson, "Data
 * Reduction and Error Analysis", 3rd ed., 6.4 and 8.5), times Student's t for so few points.
 *
 * @param edge the steepest slope, after which it may ring
 * @returns null where fewer than four crests and troughs stand out of the noise
 */
export function ringingAfter(curve: Curve, edge: Slope, { ofValue, quantum }: Resolution): Ringing | null {
  const turns = evenPart(turnsAfter(curve, edge, Math.max(UNCERTAINTIES * ofValue, STEPS * (quantum ?? 0))));
  if (turns.length < LEAST_TURNS) return null;
  const swings = turns.slice(1).map(({ value }, index) => Math.abs(value - turns[index].value));
  const counts = turns.map((_, index) => index);
  const seen = turns.map(({ time }) => time);
  const first = line(
    counts,
    seen,
    [swings[0], ...swings].map((swing) => swing ** 2),
  );
  const rough = line(
    counts.slice(1),
    swings.map(Math.log),
    swings.map((swing) => swing ** 2),
  );
  if (!(first.slope > 0) || !(rough.slope < 0)) return null;
  const head = { time: turns[0].time, swing: swings[0], halfPeriods: swings.length };
  const samplesPerPeriod = (2 * first.slope) / curve.interval;
  if (samplesPerPeriod < LEAST_SAMPLES) return { ...head, samplesPerPeriod, frequency: null, decay: null };
  // Weights of swings as they were seen would trust those most that noise made larger.
  const weights = counts.map((count) => Math.exp(2 * rough.slope * count));
  const up = (count: number): boolean => (count % 2 === 0) === turns[0].value > turns[1].value;
  const { half, shape } = placed(curve, seen, { half: first, rate: -rough.slope / first.slope, weights, up });
  // Noise makes every crest higher where it is highest, not where it ought to be.
  const values = counts.map((count) => {
    const wave = waveAround(curve, half.at(count), shape);
    return wave === null ? turns[count].value : waveAt(wave, half.at(count));
  });
  const decay = decayOf(values, -rough.slope);
  if (!(half.slope > 0) || decay === null) return null;
  const frequency = 1 / (2 * half.slope);
  const tau = half.slope / decay.rate;
  const ofDecay = (tau * decay.error) / decay.rate;
  if (ofDecay > KNOWN * tau || turns[0].time - (edge.time + edge.over) > SOON * half.slope) return null;
  return {
    ...head,
    samplesPerPeriod,
    frequency: { value: frequency, plusMinus: (frequency * half.error) / half.slope },
    decay: { value: tau, plusMinus: ofDecay },
  };
}

interface Placing {
  readonly half: Line;
  readonly rate: number;
  readonly weights: readonly number[];
  readonly up: (count: number) => boolean;
}

/** Crests and troughs found anew as those of a wave with the period that they have themselves, and the straight line through their times. */
function placed(curve: Curve, seen: readonly number[], { half: first, rate, weights, up }: Placing) {
  let times = seen;
  let half = first;
  for (let round = 0; round < ROUNDS && half.slope > 0; round++) {
    const shape = { angular: Math.PI / half.slope, rate };
    times = times.map((time, count) => {
      const wave = waveAround(curve, time, shape);
      return wave === null ? time : crestOf(wave, up(count));
    });
    half = line(
      times.map((_, count) => count),
      times,
      weights,
    );
  }
  return { half, shape: { angular: Math.PI / half.slope, rate } };
}

/**
 * Level, size and decay a half period of what stands in turn above and below: L + (−1)^k·A·e^(−rk), by least squares after Gauss and Newton. `error`: what the rate
 * may be off by, 95 %. Null where it does not decay.
 */
function decayOf(values: readonly number[], start: number): { rate: number; error: number } | null {
  const count = values.length;
  let rate = start;
  for (let round = 0; ; round++) {
    // Level and size are straight in what is seen; only the rate has to be sought (Golub and Pereyra, SIAM J. Numer. Anal. 10, 1973).
    const shapes = values.map((_, k) => (k % 2 === 0 ? 1 : -1) * Math.exp(-rate * k));
    const own = line(
      shapes,
      values,
      values.map(() => 1),
    );
    const left = values.map((value, k) => value - own.at(shapes[k]));
    const slopes = shapes.map((shape, k) => -k * own.slope * shape);
    // What level and size can take over of a change of the rate tells nothing of it.
    const taken = line(
      shapes,
      slopes,
      slopes.map(() => 1),
    );
    const told = slopes.map((slope, k) => slope - taken.at(shapes[k]));
    const square = told.reduce((sum, each) => sum + each * each, 0);
    const step = told.reduce((sum, each, k) => sum + each * left[k], 0) / square;
    rate += Math.max(-0.5 * rate, Math.min(0.5 * rate, step));
    if (!Number.isFinite(rate) || rate <= 0) return null;
    if (Math.abs(step) < 1e-9 * rate || round === 50) {
      const scatter = left.reduce((sum, each) => sum + each * each, 0);
      const free = count - 3;
      return { rate, error: student(free) * Math.sqrt(scatter / free / square) };
    }
  }
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
  const found = parabola(time, values, at, width);
  if (found === null) return { time: time[at], value: values[at], nearest: at };
  const { a, b, c, w, step } = found;
  const x = Math.max(-w, Math.min(w, c === 0 ? 0 : -b / (2 * c)));
  return { time: time[at] + x * step, value: a + x * (b + c * x), nearest: at + Math.round(x) };
}

/** a + bx + cx² by least squares, x in samples from `at`; null at an end of the curve. */
function parabola(time: Float64Array, values: Float64Array, at: number, width: number) {
  const w = Math.min(width, at, values.length - 1 - at);
  if (w < 1) return null;
  let [s0, s1, s2] = [0, 0, 0];
  for (let k = -w; k <= w; k++) {
    s0 += values[at + k];
    s1 += k * values[at + k];
    s2 += k * k * values[at + k];
  }
  const n = 2 * w + 1;
  const m2 = (n * (n * n - 1)) / 12;
  const m4 = (m2 * (3 * n * n - 7)) / 20;
  const c = (s2 - (m2 / n) * s0) / (m4 - (m2 * m2) / n);
  return { a: (s0 - c * m2) / n, b: s1 / m2, c, w, step: (time[at + w] - time[at - w]) / (2 * w) };
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
function line(x: readonly number[], y: readonly number[], weights: readonly number[]): Line {
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
  return { slope, error: student(free) * Math.sqrt(left / free / xx), at: (place) => my + slope * (place - mx) };
}
