import { levenbergMarquardt } from "ml-levenberg-marquardt";

/** Sums of squares to be made small. Residuals are in units of what each may be off by, where that is known. */
export interface LeastSquares {
  /** As many numbers as ever before; null where nothing can be worked out at these values. */
  residuals(values: readonly number[]): Float64Array | null;
  readonly start: readonly number[];
  readonly low: readonly number[];
  readonly high: readonly number[];
  /** By how much each value has to change to make a difference at all, above 0. */
  readonly scale: readonly number[];
}

export interface LeastSquaresOptions {
  /** Ends where no value moves by more than this share of its standard error (default 0.01). */
  readonly tolerance?: number;
  /** Ends, too, where a step gains less than these shares of the variance of a residual and of the sum of squares (default 0 and 1e-14). */
  readonly enough?: { readonly ofUnit: number; readonly ofCost: number };
  readonly mostIterations?: number;
  /** Smallest and largest difference by which derivatives are taken, in `scale` (default 1e-4 and 2e-2). */
  readonly differences?: readonly [least: number, most: number];
  /** How far a value may go in one step, as a share of what it is (default 1: no further than it is large). */
  readonly reach?: number;
  /** Only values are wanted: no derivatives are taken at the end (default false). */
  readonly valuesAlone?: boolean;
  /** Differences to both sides in every iteration, not in the last alone. */
  readonly central?: boolean;
  /** Called before each look at the residuals; what it throws ends the work. */
  readonly between?: (cost: number) => Promise<void>;
}

export interface LeastSquaresSolution {
  readonly values: readonly number[];
  readonly residuals: Float64Array;
  /** Derivatives of all residuals by each value, by differences to both sides. */
  readonly jacobian: readonly Float64Array[];
  /** Sum of the squares. */
  readonly cost: number;
  readonly isConverged: boolean;
  readonly iterations: number;
}

const FIRST_DAMPING = 1e-3;
const MOST_DAMPING = 1e7;

/**
 * Least squares within bounds after Levenberg and Marquardt. Each step is the library's (damped normal equations by Cholesky, clipped at the bounds); which step is
 * taken, how much it is damped, when it is enough and which values stand at a bound is decided here, for the library takes steps that make it worse and goes on to
 * a number of iterations. Columns are scaled to one, which makes its damping Marquardt's (J. SIAM 11, 1963, 431–441).
 *
 * @throws RangeError where nothing can be worked out at the start
 * @example (await leastSquares({ residuals: (b) => …, start: [1, 1], low: [0, 0], high: [9, 9], scale: [1, 1] })).values
 */
export async function leastSquares(
  problem: LeastSquares,
  options: LeastSquaresOptions = {},
): Promise<LeastSquaresSolution> {
  const { tolerance = 0.01, mostIterations = 40, central = false, between = async () => {} } = options;
  const { ofUnit, ofCost } = options.enough ?? { ofUnit: 0, ofCost: 1e-14 };
  const state = new State(problem, options.differences ?? [1e-4, 2e-2], options.reach ?? 1);
  let damping = FIRST_DAMPING;
  let isConverged = false;
  let iterations = 0;
  let fresh = false;
  while (!isConverged && iterations < mostIterations) {
    if (!fresh) await state.differentiate(central, between);
    iterations++;
    fresh = true;
    await between(state.cost);
    const found = state.step(damping);
    if (found === null) break;
    const small = found.moved <= tolerance * state.unit;
    if (found.cost < state.cost) {
      const gain = state.cost - found.cost;
      const share = gain / found.promised;
      // Of a step that was held back it tells nothing.
      const enough = damping < 0.1 && (gain <= ofUnit * state.unit ** 2 || gain <= ofCost * state.cost);
      state.take(found);
      // As far as the straight lines held what they promised, the next step may be longer.
      damping = share > 0.75 ? Math.max(1e-7, damping / 9) : share < 0.25 ? 4 * damping : damping;
      fresh = false;
      isConverged = small || enough;
    } else {
      // Nothing left to gain: the step is nothing, or only noise of the residuals themselves stops it.
      isConverged = small;
      damping *= 8;
      if (damping > MOST_DAMPING) break;
    }
  }
  if (options.valuesAlone !== true) await state.differentiate(true, between);
  const { values, residuals, jacobian, cost } = state;
  return { values, residuals, jacobian, cost, isConverged, iterations };
}

interface Step {
  readonly values: readonly number[];
  readonly residuals: Float64Array;
  readonly cost: number;
  /** What straight lines would have it come down by. */
  readonly promised: number;
  /** Largest move, in lengths of a column. */
  readonly moved: number;
}

class State {
  values: readonly number[];
  residuals: Float64Array;
  cost: number;
  jacobian: readonly Float64Array[] = [];
  private norms: readonly number[] = [];

  constructor(
    private readonly problem: LeastSquares,
    private readonly differences: readonly [number, number],
    private readonly reach: number,
  ) {
    const { start, low, high } = problem;
    this.values = start.map((value, k) => Math.min(high[k], Math.max(low[k], value)));
    const residuals = problem.residuals(this.values);
    if (residuals === null) throw new RangeError("nothing can be worked out at the start");
    this.residuals = residuals;
    this.cost = squares(residuals);
  }

  /** Standard deviation of a residual: what a column's length is measured in. */
  get unit(): number {
    return Math.sqrt(this.cost / Math.max(1, this.residuals.length - this.values.length));
  }

  take({ values, residuals, cost }: Step): void {
    this.values = values;
    this.residuals = residuals;
    this.cost = cost;
  }

  async differentiate(central: boolean, between: (cost: number) => Promise<void>): Promise<void> {
    const { problem, values, residuals } = this;
    const columns: Float64Array[] = [];
    for (let k = 0; k < values.length; k++) {
      const h = this.difference(k);
      await between(this.cost);
      const sign = values[k] + h <= problem.high[k] ? 1 : -1;
      const up = this.at(k, sign * h);
      if (central) await between(this.cost);
      const down = central || up === null ? this.at(k, -sign * h) : null;
      const [a, b, over] =
        up !== null && down !== null
          ? [up, down, 2 * sign * h]
          : up !== null
            ? [up, residuals, sign * h]
            : [residuals, down ?? residuals, sign * h];
      columns.push(a.map((value, i) => (value - b[i]) / over));
    }
    this.jacobian = columns;
    this.norms = columns.map((column) => Math.sqrt(squares(column)));
  }

  /** One step of the library over the values that are free to move. */
  step(damping: number): Step | null {
    const { problem, values, residuals, jacobian, norms } = this;
    const free = values.flatMap((value, k) => {
      if (!(norms[k] > 0)) return [];
      const slope = jacobian[k].reduce((sum, each, i) => sum + each * residuals[i], 0);
      const outward = slope > 0 ? value <= problem.low[k] : value >= problem.high[k];
      return outward ? [] : [k];
    });
    if (free.length === 0) return null;
    // Beyond, the straight lines tell nothing.
    const reach = values.map((value, k) => this.reach * Math.max(Math.abs(value), problem.scale[k]));
    const low = free.map((k) => Math.max(problem.low[k], values[k] - reach[k]));
    const high = free.map((k) => Math.min(problem.high[k], values[k] + reach[k]));
    const whole = (scaled: readonly number[]): number[] => {
      const all = [...values];
      for (const [j, k] of free.entries()) all[k] = Math.min(high[j], Math.max(low[j], scaled[j] / norms[k]));
      return all;
    };
    const start = free.map((k) => values[k] * norms[k]);
    let last: { values: readonly number[]; residuals: Float64Array } | null = null;
    const evaluate = (scaled: readonly number[]): Float64Array => {
      if (scaled.every((each, j) => each === start[j])) return residuals;
      const all = whole(scaled);
      const found = problem.residuals(all);
      if (found === null) return residuals.map(() => Number.NaN);
      last = { values: all, residuals: found };
      return found;
    };
    const places = Array.from(residuals, (_, i) => i);
    levenbergMarquardt(
      { x: places, y: places.map(() => 0) },
      (scaled) => {
        const found = evaluate(scaled);
        return (i) => found[i];
      },
      {
        initialValues: start,
        minValues: low.map((each, j) => each * norms[free[j]]),
        maxValues: high.map((each, j) => each * norms[free[j]]),
        damping,
        maxIterations: 1,
        errorTolerance: 0,
        jacobianFunction: () => (i) => free.map((k) => jacobian[k][i] / norms[k]),
      },
    );
    const never = Number.POSITIVE_INFINITY;
    if (last === null) return { values, residuals, cost: never, promised: never, moved: never };
    const { values: to, residuals: then } = last as { values: readonly number[]; residuals: Float64Array };
    const moved = Math.max(...free.map((k) => Math.abs(to[k] - values[k]) * norms[k]));
    const straight = residuals.map((each, i) =>
      free.reduce((sum, k) => sum + jacobian[k][i] * (to[k] - values[k]), each),
    );
    return { values: to, residuals: then, cost: squares(then), promised: this.cost - squares(straight), moved };
  }

  /** A difference of about a third of a standard error is seen well and still lies close. */
  private difference(k: number): number {
    const [least, most] = this.differences;
    const { scale, high, low } = this.problem;
    const wanted =
      this.norms[k] > 0 ? (0.3 * Math.max(1e-300, Math.min(1, this.unit))) / this.norms[k] : least * scale[k] * 10;
    return Math.min(Math.max(wanted, least * scale[k]), most * scale[k], 0.45 * (high[k] - low[k]));
  }

  private at(k: number, off: number): Float64Array | null {
    const value = this.values[k] + off;
    if (value < this.problem.low[k] || value > this.problem.high[k]) return null;
    return this.problem.residuals(this.values.with(k, value));
  }
}

function squares(values: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i] * values[i];
  return sum;
}
