import { unitsAt } from "../pool/counter.ts";
import { Cancelled } from "../pool/deal.ts";
import { type Around, densityOf } from "./density.ts";
import { inverseOf, normalMatrix, triangleOf } from "./matrix.ts";
import { type Found, type Ground, length } from "./search.ts";
import type { Simulated } from "./simulated.ts";
import { momentsOf, quantile, walk } from "./slice.ts";
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
  /** Whether the walk stayed where the runs are that it was told by. */
  readonly isConverged: boolean;
}

/** Rounds of a walk: to come down from where it is hot, to learn its covariance, and to be counted. */
const COOLING = 40;
const LEARNING = 120;
const COUNTED = 1000;
const HEAT = 100;
/** How often runs are done anew around where the walk ended, and from how many standard errors on. */
const MOST_ROUNDS = 3;
const MOVED = 0.5;
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
  const moved = jacobian.flatMap((column, k) => (column === null || !(length(column) > 0) ? [] : [k]));
  let factor = firstFactor(ground, found, moved);
  let all = found.all;
  let draw = 0;
  const next = (): number => unitsAt(0, draw++, 0)[0];
  for (let round = 1; ; round++) {
    const around = await runsAround(ground, all, found, moved, hooks);
    const whole = densityOf(ground, around, scatter);
    const change = new Float64Array(all.length);
    const density = (some: Float64Array): number => {
      for (const [j, k] of moved.entries()) change[k] = some[j];
      return whole(change);
    };
    const start = new Float64Array(moved.length);
    const cooled = walk({ density, factor, next }, start, COOLING, (r) => HEAT ** (1 - (r + 1) / COOLING));
    const learnt = walk({ density, factor, next }, cooled[COOLING - 1], LEARNING);
    const { mean, covariance } = momentsOf(learnt.slice(LEARNING / 4));
    factor = triangleOf(covariance) ?? factor;
    const far = Math.max(...moved.map((_, j) => Math.abs(mean[j]) / Math.sqrt(covariance[j][j])));
    const there = within(ground, all, moved, mean);
    // A misfit may draw it to where there is no run.
    if (far > MOVED && round < MOST_ROUNDS && ground.simulator.at(there) !== null) {
      all = there;
      continue;
    }
    const places = walk({ density, factor, next }, learnt[LEARNING - 1], COUNTED);
    return { ...told(ground, found, around, moved, places), isConverged: found.isConverged && far <= MOVED };
  }
}

function told(
  ground: Ground,
  found: Found,
  { all, base }: Around,
  moved: readonly number[],
  places: readonly Float64Array[],
): Omit<Known, "isConverged"> {
  const { mean, covariance } = momentsOf(places);
  const then = within(ground, all, moved, mean);
  const simulated = ground.simulator.at(then);
  const place = new Map(moved.map((k, j) => [k, j]));
  const intervals = all.map((value, k): [number, number] => {
    const j = place.get(k);
    if (j === undefined) return [value, value];
    const sorted = Float64Array.from(places, (each) => each[j]).sort();
    const middle = simulated === null ? value - mean[j] : value;
    return [middle + quantile(sorted, 0.025), middle + quantile(sorted, 0.975)];
  });
  return {
    all: simulated === null ? all : then,
    simulated: simulated ?? base,
    errors: found.all.map((_, k) => {
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

function within({ varied }: Ground, all: readonly number[], moved: readonly number[], by: Float64Array): number[] {
  const out = [...all];
  for (const [j, k] of moved.entries()) {
    const { low, high } = varied[k] ?? { low: Number.NEGATIVE_INFINITY, high: Number.POSITIVE_INFINITY };
    out[k] = Math.min(high, Math.max(low, all[k] + by[j]));
  }
  return out;
}

/** A factor of about the covariance, from least squares: the walk learns a better one. */
function firstFactor({ varied }: Ground, { jacobian, residuals }: Found, moved: readonly number[]): number[][] {
  const matrix = normalMatrix(
    moved.map((k) => jacobian[k] ?? new Float64Array(residuals.length)),
    () => 1,
  );
  for (const [j, k] of moved.entries())
    matrix[j][j] += k < varied.length ? 12 / (varied[k].high - varied[k].low) ** 2 : 1e-30;
  const inverse = inverseOf(matrix);
  const alone = moved.map((_, a) => moved.map((__, b) => (a === b ? 1 / Math.sqrt(matrix[a][a]) : 0)));
  return inverse === null ? alone : (triangleOf(inverse) ?? alone);
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
