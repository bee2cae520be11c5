import type { Integrator, OdeSystem, Tolerance } from "../../packages/sim/src/ode/types.ts";
import { copy } from "../../packages/sim/src/ode/vector.ts";
import { type Matrix, solveDense, zeros } from "./dense.ts";

/** A problem written out: rates, Jacobian and time derivative by hand (null: differences). */
export interface Problem {
  readonly size: number;
  readonly f: (t: number, y: ArrayLike<number>) => number[];
  readonly jacobian: ((t: number, y: ArrayLike<number>) => Matrix) | null;
  readonly timeDerivative?: (t: number, y: ArrayLike<number>) => number[];
}

/** A small system that solves its shifted linear systems densely. */
export function systemOf({ size, f, jacobian, timeDerivative }: Problem): OdeSystem & { calls: number } {
  let J: Matrix = zeros(size);
  let shifted: Matrix = zeros(size);
  return {
    size,
    calls: 0,
    rates(t, y, out) {
      this.calls++;
      copy(f(t, y), out);
    },
    timeRates(t, y, out) {
      copy(timeDerivative ? timeDerivative(t, y) : f(t, y).map(() => 0), out);
    },
    linearize(t, y) {
      J = jacobian ? jacobian(t, y) : differences(f, t, y);
    },
    factor(shift) {
      shifted = J.map((row, i) => row.map((value, j) => (i === j ? shift : 0) - value));
      return true;
    },
    solve(b) {
      copy(solveDense(shifted, b), b);
    },
  };
}

function differences(f: Problem["f"], t: number, y: ArrayLike<number>): Matrix {
  const n = y.length;
  const J = zeros(n);
  for (let j = 0; j < n; j++) {
    const h = 1e-6 * Math.max(1, Math.abs(y[j]));
    const shiftedBy = (d: number) =>
      f(
        t,
        Float64Array.from(y, (value, k) => (k === j ? value + d : value)),
      );
    const [up, down] = [shiftedBy(h), shiftedBy(-h)];
    for (let i = 0; i < n; i++) J[i][j] = (up[i] - down[i]) / (2 * h);
  }
  return J;
}

export function tolerance(size: number, relative: number, absolute: number): Tolerance {
  return { relative, absolute: Array.from({ length: size }, () => absolute) };
}

/** State at the end. */
export function integrate(
  integrator: Integrator,
  y0: readonly number[],
  end: number,
  firstStep: number,
  maxStep = Number.POSITIVE_INFINITY,
): Float64Array {
  const y = Float64Array.from(y0);
  integrator.restart(y, firstStep);
  integrator.advance(end, maxStep, (step) => {
    step.interpolate(step.to, y);
    return "continue";
  });
  return y;
}

/** Largest error over the tolerance: the one figure of accuracy. */
export function errorOverTolerance(
  found: ArrayLike<number>,
  exact: ArrayLike<number>,
  relative: number,
  absolute: number,
): number {
  let worst = 0;
  for (let i = 0; i < exact.length; i++)
    worst = Math.max(worst, Math.abs(found[i] - exact[i]) / (absolute + relative * Math.abs(exact[i])));
  return worst;
}
