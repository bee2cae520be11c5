import { describe, expect, it } from "vitest";
import { Rosenbrock } from "../../packages/sim/src/ode/rosenbrock.ts";
import { rodas4, rodas5p, type Tableau } from "../../packages/sim/src/ode/tableau.ts";
import { IntegrationFailure } from "../../packages/sim/src/ode/types.ts";
import { errorOverTolerance, integrate, type Problem, systemOf, tolerance } from "../support/system.ts";

/** y' = −2·t·y² + y·cos t − … : non-linear and explicit in time, with the solution y = (2 + sin t, exp(−t)·(2 + sin t)). */
const problem: Problem = {
  size: 2,
  f: (t, y) => [
    Math.cos(t) + y[0] * y[1] - Math.exp(-t) * (2 + Math.sin(t)) ** 2,
    -y[1] + Math.exp(-t) * Math.cos(t) + y[0] - 2 - Math.sin(t),
  ],
  jacobian: (_t, y) => [
    [y[1], y[0]],
    [1, -1],
  ],
  timeDerivative: (t) => {
    const g = 2 + Math.sin(t);
    return [
      -Math.sin(t) + Math.exp(-t) * g * g - 2 * Math.exp(-t) * g * Math.cos(t),
      -Math.exp(-t) * Math.cos(t) - Math.exp(-t) * Math.sin(t) - Math.cos(t),
    ];
  },
};
const exact = (t: number) => [2 + Math.sin(t), Math.exp(-t) * (2 + Math.sin(t))];

/** Largest error at the grid and inside the steps, with n equal steps to t = 1. */
function errors(tableau: Tableau, n: number): { grid: number; dense: number } {
  const loose = tolerance(2, 1e6, 1e6);
  const integrator = new Rosenbrock(systemOf(problem), tableau, loose, 1e5);
  const out = new Float64Array(2);
  const [worst, inside] = [{ value: 0 }, { value: 0 }];
  integrator.restart(Float64Array.from(exact(0)), 1 / n);
  integrator.advance(1, 1 / n, (step) => {
    for (const [share, into] of [
      [1, worst],
      [0.2, inside],
      [0.5, inside],
      [0.77, inside],
    ] as const) {
      const t = step.from + share * (step.to - step.from);
      step.interpolate(t, out);
      into.value = Math.max(into.value, errorOverTolerance(out, exact(t), 0, 1));
    }
    return "continue";
  });
  expect(integrator.counters.steps).toBe(n);
  return { grid: worst.value, dense: Math.max(worst.value, inside.value) };
}

describe.each([rodas4, rodas5p])("$name", (tableau) => {
  it("converges with its order on a problem that is explicit in time", () => {
    const [coarse, fine] = [errors(tableau, 16), errors(tableau, 32)];
    const slope = Math.log2(coarse.grid / fine.grid);
    expect(slope).toBeGreaterThan(tableau.order - 0.3);
    expect(slope).toBeLessThan(tableau.order + 1.2);
  });

  it("interpolates inside its steps with an order one lower at worst", () => {
    const slope = Math.log2(errors(tableau, 16).dense / errors(tableau, 32).dense);
    expect(slope).toBeGreaterThan(tableau.order - 1.3);
  });

  it("loses its order when the time derivative is left out (so the test above sees it)", () => {
    const { timeDerivative, ...blind } = problem;
    expect(timeDerivative).toBeDefined();
    const error = (n: number) => {
      const integrator = new Rosenbrock(systemOf(blind), tableau, tolerance(2, 1e6, 1e6), 1e5);
      return errorOverTolerance(integrate(integrator, exact(0), 1, 1 / n, 1 / n), exact(1), 0, 1);
    };
    expect(Math.log2(error(16) / error(32))).toBeLessThan(tableau.order - 1.5);
  });

  it("interpolant and step ends agree", () => {
    const integrator = new Rosenbrock(systemOf(problem), tableau, tolerance(2, 1e-8, 1e-8), 1e5);
    const [a, b] = [new Float64Array(2), new Float64Array(2)];
    let previous: number[] | null = null;
    integrator.restart(Float64Array.from(exact(0)), 1e-3);
    integrator.advance(1, 1, (step) => {
      step.interpolate(step.from, a);
      step.interpolate(step.to, b);
      if (previous) expect(Math.abs(a[0] - previous[0])).toBeLessThan(1e-14);
      previous = Array.from(b);
      return "continue";
    });
    expect(previous).not.toBeNull();
  });

  it("ends exactly at the limit and goes on from there", () => {
    const integrator = new Rosenbrock(systemOf(problem), tableau, tolerance(2, 1e-9, 1e-9), 1e5);
    const y = new Float64Array(2);
    let last = 0;
    integrator.restart(Float64Array.from(exact(0)), 1e-3);
    const watch = (step: { to: number; interpolate(t: number, out: Float64Array): void }) => {
      last = step.to;
      step.interpolate(last, y);
      return "continue" as const;
    };
    expect(integrator.advance(0.3, 1, watch)).toBe("limit");
    expect(last).toBe(0.3);
    integrator.advance(1, 1, watch);
    expect(last).toBe(1);
    expect(errorOverTolerance(y, exact(1), 1e-9, 1e-9)).toBeLessThan(3);
  });

  it("stops where it is told and loses nothing", () => {
    const run = (stopEvery: number) => {
      const integrator = new Rosenbrock(systemOf(problem), tableau, tolerance(2, 1e-7, 1e-7), 1e5);
      const y = new Float64Array(2);
      let count = 0;
      integrator.restart(Float64Array.from(exact(0)), 1e-3);
      while (
        integrator.advance(1, 1, (step) => {
          step.interpolate(step.to, y);
          return ++count % stopEvery === 0 ? "stop" : "continue";
        }) === "stopped"
      );
      return [...y, integrator.counters.steps];
    };
    expect(run(1)).toEqual(run(1e9));
    expect(run(3)).toEqual(run(1e9));
  });

  it("gives up with a reason and the state, not with a number, where the solution blows up", () => {
    const blowUp: Problem = { size: 1, f: (_t, y) => [y[0] * y[0]], jacobian: (_t, y) => [[2 * y[0]]] };
    const integrator = new Rosenbrock(systemOf(blowUp), tableau, tolerance(1, 1e-6, 1e-6), 1e5);
    let caught: unknown = null;
    try {
      integrate(integrator, [1], 2, 1e-3);
    } catch (error) {
      caught = error;
    }
    expect(caught).toBeInstanceOf(IntegrationFailure);
    const failure = caught as IntegrationFailure;
    expect(failure.time).toBeGreaterThan(0.99);
    expect(failure.time).toBeLessThan(1.01);
    expect(failure.state).toBe(0);
  });

  it("refuses a rate that is not a number", () => {
    const spoilt: Problem = { size: 1, f: (t) => [t > 0.5 ? Number.NaN : 1], jacobian: () => [[0]] };
    const integrator = new Rosenbrock(systemOf(spoilt), tableau, tolerance(1, 1e-6, 1e-6), 1e5);
    expect(() => integrate(integrator, [0], 1, 1e-3)).toThrow(IntegrationFailure);
  });

  it("keeps its bound on the work", () => {
    const integrator = new Rosenbrock(systemOf(problem), tableau, tolerance(2, 1e-12, 1e-12), 10);
    expect(() => integrate(integrator, exact(0), 1, 1e-6)).toThrow("the work exceeded its bound");
    expect(integrator.counters.steps + integrator.counters.rejected).toBe(10);
  });
});
