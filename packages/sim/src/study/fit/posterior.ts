import { unitsAt } from "../pool/counter.ts";
import { Cancelled } from "../pool/deal.ts";
import { quantile } from "../spread/statistics.ts";
import { type Around, type Density, densityOf, type Quadratic } from "./density.ts";
import { held, ownOf } from "./held.ts";
import { MOST_LAG } from "./lag.ts";
import { inverseOf, triangleOf } from "./matrix.ts";
import { type Found, type Ground, length } from "./search.ts";
import type { Simulated } from "./simulated.ts";
import { momentsOf, walk } from "./slice.ts";
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

/** A lag of first order that all channels have in common. */
export interface Lag {
  /** How large it is by the capture, s, and whether it surely is there. */
  readonly value: number;
  readonly isThere: boolean;
  /** By how much each value is told too high where the instrument lags by `tried`, s. */
  readonly tried: number;
  readonly moves: readonly number[];
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
/** An instrument lags where no more than this share of so many rounds has it lag by less than this share of a sample interval. */
const LAG_LEARNING = 80;
const LAG_ROUNDS = 200;
const LAG_CHANCE = 0.005;
const LAG_FELT = 0.05;
/** The lag for which it is told what it would do, as a share of a sample interval: an edge settles to 4 % within one. */
const LAG_TRIED = 0.3;

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
  const moved = jacobian.flatMap((column, k) => (column === null || !(length(column) > 0) ? [] : [k]));
  let all = found.all;
  let draw = 0;
  const next = (): number => unitsAt(0, draw++, 0)[0];
  for (let round = 1; ; round++) {
    const around = await runsAround(ground, all, found, moved, hooks);
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
    if (far > MOVED && round < MOST_ROUNDS && isAsGood(ground, there, all)) {
      all = there;
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

/** The logarithm of a density as a walk asks for it: by what is moved alone. */
function densityFor(whole: Density, moved: readonly number[], count: number): (some: Float64Array) => number {
  const change = new Float64Array(count);
  return (some) => {
    for (const [j, k] of moved.entries()) change[k] = some[j];
    return whole.at(change);
  };
}

/** Walks once more where the instrument may lag, too, and where it lags by a given time. */
function lagOf(
  ground: Ground,
  around: Around,
  scatter: readonly number[],
  moved: readonly number[],
  begin: Begin,
): Lag {
  const place = around.all.length;
  const most = endsOf(ground, place)[1];
  let draw = 0;
  const next = (): number => unitsAt(1, draw++, 0)[0];
  const whole = densityOf(ground, { ...around, all: [...around.all, 0] }, scatter);
  const all = [...moved, place];
  const { factor } = straightOf(ground, whole.straight, all);
  const density = densityFor(whole, all, place + 1);
  const learnt = walk({ density, factor, next }, Float64Array.from([...begin.mean, 0.02 * most]), LAG_LEARNING);
  const own = triangleOf(momentsOf(learnt.slice(LAG_LEARNING / 4)).covariance) ?? factor;
  const places = walk({ density, factor: own, next }, learnt[LAG_LEARNING - 1], LAG_ROUNDS);
  const lags = places.map((each) => each[moved.length]);
  const tried = LAG_TRIED * most;
  const held = densityFor(densityOf(ground, { ...around, all: [...around.all, tried] }, scatter), moved, place + 1);
  const moves = momentsOf(
    walk({ density: held, factor: begin.factor, next }, begin.mean, LAG_LEARNING).slice(LAG_LEARNING / 4),
  );
  return {
    value: lags.reduce((sum, lag) => sum + lag / lags.length, 0),
    isThere: lags.filter((lag) => lag < LAG_FELT * most).length <= LAG_CHANCE * LAG_ROUNDS,
    tried,
    moves: ground.varied.map((_, k) => {
      const j = moved.indexOf(k);
      return j < 0 ? 0 : begin.mean[j] - moves.mean[j];
    }),
  };
}

/** Where a walk begins, and how its steps lie. */
interface Begin {
  readonly mean: Float64Array;
  readonly factor: number[][];
}

/** A misfit may draw a walk to where there is no run, or one that is like nothing: straight lines tell nothing so far off. */
function isAsGood(ground: Ground, there: readonly number[], here: readonly number[]): boolean {
  const { channels, pairs, varied, simulator, zeroOffs, lagOff, until } = ground;
  const costOf = (all: readonly number[]): number => {
    const simulated = simulator.at(all);
    if (simulated === null) return Number.POSITIVE_INFINITY;
    const own = ownOf(all, varied.length, channels.length);
    return length(held(channels, pairs, simulated, own, { bent: null, zeroOffs, lagOff, until }));
  };
  return costOf(there) < WORSE * costOf(here);
}

function told(
  ground: Ground,
  { all, base }: Around,
  moved: readonly number[],
  places: readonly Float64Array[],
): Omit<Known, "pulls" | "isConverged" | "sides" | "lag"> {
  const { mean, covariance } = momentsOf(places);
  const then = within(ground, all, moved, mean);
  const simulated = isAsGood(ground, then, all) ? ground.simulator.at(then) : null;
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

/** Between which ends one of all that is moved lies for certain. */
function endsOf({ varied, shifts, channels }: Ground, k: number): readonly [low: number, high: number] {
  if (k < varied.length) return [varied[k].low, varied[k].high];
  if (k === varied.length + 2 * channels.length)
    return [0, MOST_LAG * Math.max(...channels.map(({ interval, every }) => interval * every))];
  return k === varied.length ? shifts : [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
}

function within(ground: Ground, all: readonly number[], moved: readonly number[], by: Float64Array): number[] {
  const out = [...all];
  for (const [j, k] of moved.entries()) {
    const [low, high] = endsOf(ground, k);
    out[k] = Math.min(high, Math.max(low, all[k] + by[j]));
  }
  return out;
}

interface Straight {
  /** Where its middle lies, as a change, and its standard deviations. */
  readonly best: readonly number[];
  readonly errors: readonly number[];
  /** Of its covariance: the walk learns a better one. */
  readonly factor: number[][];
}

/** What straight lines make of the density, bounds left out of account but for their width. */
function straightOf(ground: Ground, quadratic: Quadratic, moved: readonly number[]): Straight {
  const { a, b } = quadratic.part(moved);
  for (const [j, k] of moved.entries()) {
    const [low, high] = endsOf(ground, k);
    a[j][j] += 12 / (high - low) ** 2;
  }
  const inverse = inverseOf(a) ?? a.map((row, i) => row.map((each, j) => (i === j ? 1 / each : 0)));
  const errors = inverse.map((row, j) => Math.sqrt(row[j]));
  return {
    best: inverse.map((row) => row.reduce((sum, each, i) => sum + each * b[i], 0)),
    errors,
    factor: triangleOf(inverse) ?? errors.map((error, j) => errors.map((_, i) => (i === j ? error : 0))),
  };
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
  all: readonly number[],
  { jacobian }: Found,
  moved: readonly number[],
  hooks: FitHooks,
): Promise<Around> {
  const run = async (values: readonly number[]): Promise<Simulated | null> => {
    await hooks.pause?.();
    if (hooks.signal?.aborted === true) throw new Cancelled();
    return simulator.at(values);
  };
  const base = await run(all);
  if (base === null) throw new RangeError("nothing can be worked out at the end");
  const sides: (Sides | null)[] = [];
  for (const [k, { low, high, nominal }] of varied.entries()) {
    if (!moved.includes(k)) {
      sides.push(null);
      continue;
    }
    const scale = Math.abs(nominal) || (high - low) / 10;
    const alone = DIFFERENCE / length(jacobian[k] ?? new Float64Array(1));
    const by = Math.min(Math.max(alone, 1e-4 * scale), 2e-2 * scale, 0.45 * (high - low));
    const [over, under] = [Math.min(high, all[k] + by), Math.max(low, all[k] - by)];
    const [up, down] = [await run(all.with(k, over)), await run(all.with(k, under))];
    const [top, bottom] = [up === null ? all[k] : over, down === null ? all[k] : under];
    sides.push(top > bottom ? { up: up ?? base, down: down ?? base, over: top - bottom } : null);
  }
  return { base, all, sides };
}
