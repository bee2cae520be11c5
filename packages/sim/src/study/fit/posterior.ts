import { unitsAt } from "../pool/counter.ts";
import { Cancelled } from "../pool/deal.ts";
import { quantile } from "../spread/statistics.ts";
import { type Around, densityOf } from "./density.ts";
import { held, ownOf } from "./held.ts";
import { type Lag, lagOf } from "./lag-walk.ts";
import { triangleOf } from "./matrix.ts";
import { type Found, type Ground, length } from "./search.ts";
import type { Simulated } from "./simulated.ts";
import { momentsOf, walk } from "./slice.ts";
import { densityFor, endsOf, type Straight, straightOf } from "./straight.ts";
import type { FitHooks } from "./types.ts";
import type { Sides } from "./warp.ts";

/** Where everything lies, and how sure that is. */
export interface Known {
  /** Values, shift, lags, zeros, each the mean of what the capture allows. */
  readonly all: readonly number[];
  readonly simulated: Simulated;
  /** Standard errors, in the order of `all`; infinite for values that the capture says nothing about. */
  readonly errors: readonly number[];
  /** Between which ends each lies with 95 %. */
  readonly intervals: readonly (readonly [from: number, to: number])[];
  readonly correlation: (a: number, b: number) => number;
  /** By how many standard deviations the capture would have each value beyond its nearer bound; below 0 within them. */
  readonly pulls: readonly number[];
  /** Whether the walk stayed where the runs are that it was told by. */
  readonly isConverged: boolean;
  /** The runs to both sides of each value that it was told by; null for those that stay where they are. */
  readonly sides: readonly (Sides | null)[];
  readonly lag: Lag;
}

/** Rounds of a walk: to come down from where it is hot, to learn its covariance, and to be counted. */
const COOLING = 40;
const LEARNING = 120;
const COUNTED = 1000;
const HEAT = 100;
/** How often runs are done anew around where the walk ended, and from how many standard errors on. */
const MOST_ROUNDS = 8;
const MOVED = 0.5;
/** So many times as much may be left at the mean as where it is told from. */
const WORSE = 1.5;
/** Differences for derivatives, in standard errors of a value alone. */
const DIFFERENCE = 0.3;

/**
 * How sure each of what was moved is: not from the curvature at the best values, for a capture that tells between which two samples something happened gives every instant between them
 * the same chance, and least squares have neither a curvature nor a best place there. The density of the values is walked through instead (Gelman and others,
 * "Bayesian Data Analysis", 2013, 3.7 and chapter 11); with nothing but noise it gives what least squares give.
 *
 * @param scatter standard deviation of each channel's residuals, in units of what was expected
 */
export async function posteriorOf(
  ground: Ground,
  found: Found,
  scatter: readonly number[],
  hooks: FitHooks,
): Promise<Known> {
  const { jacobian } = found;
  const felt = jacobian.map((column) => (column === null ? 0 : length(column)));
  const moved = felt.flatMap((size, k) => (size > 0 ? [k] : []));
  let { all, simulated: base } = found;
  let draw = 0;
  const next = (): number => unitsAt(0, draw++, 0)[0];
  for (let round = 1; ; round++) {
    const around = await runsAround(ground, { all, base }, felt, hooks);
    const whole = densityOf(ground, around, scatter);
    const straight = straightOf(ground, whole.straight, moved);
    let factor = straight.factor;
    const density = densityFor(whole, moved, all.length);
    const start = new Float64Array(moved.length);
    const cooled = walk({ density, factor, next }, start, COOLING, (r) => HEAT ** (1 - (r + 1) / COOLING));
    const learnt = walk({ density, factor, next }, cooled[COOLING - 1], LEARNING);
    const { mean, covariance } = momentsOf(learnt.slice(LEARNING / 4));
    factor = triangleOf(covariance) ?? factor;
    const far = Math.max(...moved.map((_, j) => Math.abs(mean[j]) / Math.sqrt(covariance[j][j])));
    const there = within(ground, all, moved, mean);
    const then = far > MOVED && round < MOST_ROUNDS ? asGood(ground, there, all) : null;
    if (then !== null) {
      [all, base] = [there, then];
      continue;
    }
    const places = walk({ density, factor, next }, learnt[LEARNING - 1], COUNTED);
    return {
      ...told(ground, around, moved, places),
      pulls: pullsOf(ground, around.all, straight, moved, Math.max(1, ...scatter)),
      isConverged: found.isConverged && far <= MOVED,
      sides: around.sides,
      lag: lagOf(ground, around, scatter, moved, { mean: momentsOf(places).mean, factor }),
    };
  }
}

/** The run at a place that a walk was drawn to; null where a misfit drew it to where there is none, or one that is like nothing: straight lines tell nothing so far off. */
function asGood(ground: Ground, there: readonly number[], here: readonly number[]): Simulated | null {
  const { channels, pairs, varied, simulator, zeroOffs, lagOff, until } = ground;
  const costOf = (all: readonly number[], simulated: Simulated | null): number => {
    if (simulated === null) return Number.POSITIVE_INFINITY;
    const own = ownOf(all, varied.length, channels.length);
    return length(held(channels, pairs, simulated, own, { bent: null, zeroOffs, lagOff, until }));
  };
  const then = simulator.at(there);
  return costOf(there, then) < WORSE * costOf(here, simulator.at(here)) ? then : null;
}

function told(
  ground: Ground,
  { all, base }: Around,
  moved: readonly number[],
  places: readonly Float64Array[],
): Omit<Known, "pulls" | "isConverged" | "sides" | "lag"> {
  const { mean, covariance } = momentsOf(places);
  const then = within(ground, all, moved, mean);
  const simulated = asGood(ground, then, all);
  const place = new Map(moved.map((k, j) => [k, j]));
  const intervals = all.map((value, k): [number, number] => {
    const j = place.get(k);
    if (j === undefined) return [value, value];
    const middle = simulated === null ? value - mean[j] : value;
    const sorted = Float64Array.from(places, (each) => middle + each[j]).sort();
    const [low, high] = endsOf(ground, k);
    return shortest(sorted, low, high);
  });
  return {
    all: simulated === null ? all : then,
    simulated: simulated ?? base,
    errors: all.map((_, k) => {
      const j = place.get(k);
      return j === undefined ? Number.POSITIVE_INFINITY : Math.sqrt(covariance[j][j]);
    }),
    intervals,
    correlation: (a, b) => {
      const [i, j] = [place.get(a), place.get(b)];
      return i === undefined || j === undefined ? 0 : covariance[i][j] / Math.sqrt(covariance[i][i] * covariance[j][j]);
    },
  };
}

/** The middle 95 % of sorted numbers; from a bound on where that takes less room: what piles up at it has no tail there. */
function shortest(sorted: Float64Array, low: number, high: number): [from: number, to: number] {
  const at = (share: number): number => quantile(sorted, share);
  const some: [number, number][] = [
    [at(0.025), at(0.975)],
    [low, at(0.95)],
    [at(0.05), high],
  ];
  return some.reduce((best, each) => (each[1] - each[0] < best[1] - best[0] ? each : best));
}

function within(ground: Ground, all: readonly number[], moved: readonly number[], by: Float64Array): number[] {
  const out = [...all];
  for (const [j, k] of moved.entries()) {
    const [low, high] = endsOf(ground, k);
    out[k] = Math.min(high, Math.max(low, all[k] + by[j]));
  }
  return out;
}

function pullsOf(
  { varied }: Ground,
  all: readonly number[],
  { best, errors }: Straight,
  moved: readonly number[],
  scatter: number,
): number[] {
  return varied.map(({ low, high }, k) => {
    const j = moved.indexOf(k);
    if (j < 0) return Number.NEGATIVE_INFINITY;
    const wanted = all[k] + best[j];
    // By the instrument's noise: a misfit hides no pull.
    return Math.max(low - wanted, wanted - high) / (errors[j] / scatter);
  });
}

/** Runs at some values, and to both sides of each that moves. */
async function runsAround(
  { simulator, varied }: Ground,
  { all, base }: Pick<Around, "all" | "base">,
  felt: readonly number[],
  hooks: FitHooks,
): Promise<Around> {
  const run = async (values: readonly number[]): Promise<Simulated | null> => {
    await hooks.pause?.();
    if (hooks.signal?.aborted === true) throw new Cancelled();
    return simulator.at(values);
  };
  const sides: (Sides | null)[] = [];
  for (const [k, { low, high, nominal }] of varied.entries()) {
    if (!(felt[k] > 0)) {
      sides.push(null);
      continue;
    }
    const scale = Math.abs(nominal) || (high - low) / 10;
    const alone = DIFFERENCE / felt[k];
    const by = Math.min(Math.max(alone, 1e-4 * scale), 2e-2 * scale, 0.45 * (high - low));
    const [over, under] = [Math.min(high, all[k] + by), Math.max(low, all[k] - by)];
    const [up, down] = [await run(all.with(k, over)), await run(all.with(k, under))];
    const [top, bottom] = [up === null ? all[k] : over, down === null ? all[k] : under];
    sides.push(top > bottom ? { up: up ?? base, down: down ?? base, over: top - bottom } : null);
  }
  return { base, all, sides };
}
