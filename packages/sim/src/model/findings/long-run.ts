import { rootFromBelow } from "../../ode/root.ts";
import { Rosenbrock } from "../../ode/rosenbrock.ts";
import { rodas5p } from "../../ode/tableau.ts";
import type { OdeSystem } from "../../ode/types.ts";

export interface MeltStages {
  readonly resistanceRatio: number;
  readonly stages: readonly { readonly weight: number; readonly timeConstant: number }[];
}

/**
 * Where a fuse's melt share goes when its mean load x = (i/I_inf)² is held: it comes to rest at x/(k − x·(k − 1)) below 1, or melts after
 * so many seconds. `start` is the share of each stage.
 */
export function holdFuse(
  fuse: MeltStages,
  load: number,
  start: readonly number[],
): { rest: number } | { melts: number } {
  const { resistanceRatio: k, stages } = fuse;
  if (load < 1) {
    // A sum above 1 on the way is impossible from below: both stages rise towards their rest.
    return { rest: load / (k - load * (k - 1)) };
  }
  const tolerance = { relative: 1e-10, absolute: stages.map(() => 1e-11) };
  const solver = new Rosenbrock(heldSystem(fuse, load), rodas5p, tolerance, 1e6);
  const y = Float64Array.from(start);
  const slowest = Math.max(...stages.map((stage) => stage.timeConstant));
  const limit = 1e5 * slowest;
  let melts = Number.POSITIVE_INFINITY;
  const total = () => y.reduce((sum, value) => sum + value, 0);
  solver.restart(y, 1e-3 * Math.min(...stages.map((stage) => stage.timeConstant)));
  solver.advance(limit, limit, (step) => {
    const excess = (t: number) => {
      step.interpolate(t, y);
      return total() - 1;
    };
    const [before, after] = [excess(step.from), excess(step.to)];
    if (after <= 0) return "continue";
    melts = rootFromBelow(excess, step.from, step.to, Math.min(0, before), after, 1e-12 * step.to);
    return "stop";
  });
  return { melts };
}

/**
 * The stages of a fuse whose load is held: linear, and its Jacobian is a diagonal and one outer product, so that shifted systems are solved
 * by the rule of Sherman and Morrison.
 */
function heldSystem({ resistanceRatio: k, stages }: MeltStages, load: number): OdeSystem {
  const gains = stages.map(({ weight, timeConstant }) => (weight * load * (k - 1)) / (k * timeConstant));
  const pivots = stages.map(() => 0);
  let remainder = 1;
  return {
    size: stages.length,
    rates(_t, y, out) {
      let theta = 0;
      for (let m = 0; m < stages.length; m++) theta += y[m];
      const q = (load * (1 + (k - 1) * theta)) / k;
      stages.forEach(({ weight, timeConstant }, m) => {
        out[m] = (weight * q - y[m]) / timeConstant;
      });
    },
    timeRates(_t, _y, out) {
      for (let m = 0; m < stages.length; m++) out[m] = 0;
    },
    linearize() {},
    factor(shift) {
      remainder = 1;
      stages.forEach(({ timeConstant }, m) => {
        pivots[m] = shift + 1 / timeConstant;
        remainder -= gains[m] / pivots[m];
      });
      return remainder !== 0;
    },
    solve(b) {
      let sum = 0;
      for (let m = 0; m < stages.length; m++) sum += b[m] /= pivots[m];
      for (let m = 0; m < stages.length; m++) b[m] += ((gains[m] / pivots[m]) * sum) / remainder;
    },
  };
}

/** A full cycle of a fuse: the shares of its stages at both ends, and its highest share with the time after the cycle's start. */
export interface MeltCycle {
  readonly period: number;
  readonly before: readonly number[];
  readonly last: readonly number[];
  readonly peak: { readonly value: number; readonly offset: number };
  /** Of the current in it, A²s. */
  readonly i2t: number;
  /** The full cycle before it, which ended where it began: shares at its start and its I²t; null where there was none. */
  readonly earlier: { readonly before: readonly number[]; readonly i2t: number } | null;
}

/** Two cycles tell how their current moves with the share on the way to melting where their shares differ by more than this. */
const APART = 1e-5;

/** Cycles after which a fuse that still moves counts as settled. */
const MOST_CYCLES = 1_000_000;

/**
 * Where a fuse's peaks go when a cycle repeats itself: what it adds to each stage, more as the element's resistance grows with its heat, and
 * how far its peak stands above what is left of the start. They come to rest below 1, or pass it after so many seconds from the last firing.
 * A fuse that resists also takes from its current: how much, is read off the last two cycles.
 */
export function repeatFuse(
  { resistanceRatio: k, stages }: MeltStages,
  { period, before, last, peak, i2t, earlier }: MeltCycle,
): { restPeak: number } | { melts: number } {
  const sum = (shares: readonly number[], kept: readonly number[] | null = null) =>
    shares.reduce((total, share, m) => total + share * (kept?.[m] ?? 1), 0);
  // What is left of each stage's share at the next firing, and at the peak.
  const overRound = stages.map(({ timeConstant }) => Math.exp(-period / timeConstant));
  const untilPeak = stages.map(({ timeConstant }) => Math.exp(-peak.offset / timeConstant));
  const base = sum(before);
  const gains = last.map((share, m) => share - before[m] * overRound[m]);
  const pulse = peak.value - sum(before, untilPeak);
  const hotter = (k - 1) / (1 + (k - 1) * base);
  let less = 0;
  if (earlier !== null && earlier.i2t > 0 && Math.abs(base - sum(earlier.before)) > APART)
    less = Math.min(hotter, Math.max(0, (1 - i2t / earlier.i2t) / (base - sum(earlier.before))));
  const shares = [...last];
  for (let cycle = 0; ; cycle++) {
    let total = 0;
    let left = 0;
    for (let m = 0; m < shares.length; m++) {
      total += shares[m];
      left += shares[m] * untilPeak[m];
    }
    const more = (1 + hotter * (total - base)) / (1 + less * (total - base));
    const highest = left + more * pulse;
    if (highest >= 1) return { melts: cycle * period + peak.offset };
    let moved = 0;
    for (let m = 0; m < shares.length; m++) {
      const next = shares[m] * overRound[m] + more * gains[m];
      moved = Math.max(moved, Math.abs(next - shares[m]));
      shares[m] = next;
    }
    if (moved < 1e-12 || cycle > MOST_CYCLES) return { restPeak: highest };
  }
}

/** First time at which Σ dT_k passes `limit` with the power held, from the given rises; null: never. */
export function timeToRise(
  stages: readonly { readonly resistance: number; readonly timeConstant: number }[],
  power: number,
  start: readonly number[],
  limit: number,
): number | null {
  const rise = (t: number) =>
    stages.reduce((sum, { resistance, timeConstant }, k) => {
      const rest = resistance * power;
      return sum + rest + (start[k] - rest) * Math.exp(-t / timeConstant);
    }, 0);
  if (rise(0) > limit) return 0;
  const slowest = Math.max(...stages.map((stage) => stage.timeConstant));
  let left = 0;
  for (let k = -60; k <= 40; k++) {
    const right = slowest * 10 ** (k / 10);
    if (rise(right) > limit)
      return rootFromBelow((t) => rise(t) - limit, left, right, rise(left) - limit, rise(right) - limit, 1e-9 * right);
    left = right;
  }
  return null;
}
