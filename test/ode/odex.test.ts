import { Solver } from "odex";
import { describe, expect, it } from "vitest";
import { Odex } from "../../packages/sim/src/ode/odex.ts";
import { IntegrationFailure } from "../../packages/sim/src/ode/types.ts";
import { integrate, type Problem, systemOf, tolerance } from "../support/system.ts";

const make = (problem: Problem, relative = 1e-6, work = 1e6) =>
  new Odex(systemOf(problem), tolerance(problem.size, relative, relative), work);
const reasonOf = (run: () => unknown): string => {
  try {
    run();
  } catch (error) {
    if (error instanceof IntegrationFailure) return error.reason;
    throw error;
  }
  return "none";
};

/** Each trap is shown on the bare package first: where that changes, the guard may go. */
describe("values that are no numbers", () => {
  const spoilt: Problem = { size: 1, f: (t) => [t > 0.5 ? Number.NaN : 1], jacobian: null };

  it("are accepted by the package", () => {
    const solver = new Solver(1);
    solver.denseOutput = true;
    const { y, outcome } = solver.solve(
      (t) => spoilt.f(t, [0]),
      0,
      [0],
      1,
      () => true,
    );
    expect(y[0]).toBeNaN();
    expect(outcome).toBe(0);
  });

  it("are refused here", () => {
    expect(reasonOf(() => integrate(make(spoilt), [0], 1, 1e-3))).toBe("a rate is not finite");
  });
});

describe("a fast system", () => {
  // A capacitor behind two diodes: with the package's least first step of 1e-4 the first trial leaves the range of a double.
  const rate = (y: number) => -1e7 * (Math.exp(y) - Math.exp(-y));
  const fast: Problem = { size: 1, f: (_t, y) => [rate(y[0])], jacobian: null };
  const exact = (t: number) => 2 * Math.atanh(Math.tanh(0.5) * Math.exp(-2e7 * t));

  it("overflows the package's first step whatever first step is asked for", () => {
    const solver = new Solver(1);
    solver.initialStepSize = 1e-10;
    solver.denseOutput = true;
    let largest = 0;
    solver.solve(
      (_t, y) => {
        largest = Math.max(largest, Math.abs(rate(y[0])));
        return [rate(y[0])];
      },
      0,
      [1],
      1e-3,
      () => largest < Number.POSITIVE_INFINITY,
    );
    expect(largest).toBe(Number.POSITIVE_INFINITY);
  });

  it("begins with the first step that is asked for", () => {
    const integrator = make(fast, 1e-8);
    const first: number[] = [];
    integrator.restart(Float64Array.of(1), 1e-11);
    integrator.advance(1e-3, 1, (step) => {
      first.push(step.to);
      return "continue";
    });
    expect(first[0]).toBeLessThan(3e-11);
    expect(first.at(-1)).toBe(1e-3);
    expect(integrate(make(fast, 1e-8), [1], 1e-7, 1e-11)[0]).toBeCloseTo(exact(1e-7), 7);
  });

  it("fails rather than lies when the first step asked for is too large", () => {
    expect(reasonOf(() => integrate(make(fast), [1], 1e-3, 1e-3))).toBe("a rate is not finite");
  });
});

describe("the bound on the work", () => {
  const rotation: Problem = { size: 2, f: (_t, y) => [1e3 * y[1], -1e3 * y[0]], jacobian: null };

  it("is ten thousand steps in the package, told only to whoever asks", () => {
    const solver = new Solver(2);
    solver.maxSteps = 5;
    const solution = solver.solve((_t, [a, b]) => [1e3 * b, -1e3 * a], 0, [1, 0], 10);
    expect(solution.xEnd).toBe(10);
    expect(solution.outcome).toBe(1);
  });

  it("is kept here and said", () => {
    const integrator = make(rotation, 1e-6, 2000);
    expect(reasonOf(() => integrate(integrator, [1, 0], 10, 1e-4))).toBe("the work exceeded its bound");
    expect(integrator.counters.evaluations).toBe(2001);
  });

  it("lets a long run through that the package would have cut at ten thousand steps", () => {
    const integrator = make(rotation, 1e-6, 1e7);
    const y = integrate(integrator, [1, 0], 20, 1e-4, 1e-3);
    expect(integrator.counters.steps).toBeGreaterThan(10_000);
    expect(Math.abs(y[0] - Math.cos(2e4))).toBeLessThan(1e-2);
  });
});

describe("steps", () => {
  const wave: Problem = { size: 2, f: (_t, y) => [y[1], -y[0]], jacobian: null };

  it("show a dense output as good as the tolerance", () => {
    const integrator = make(wave, 1e-9);
    const out = new Float64Array(2);
    let worst = 0;
    integrator.restart(Float64Array.of(0, 1), 1e-3);
    integrator.advance(20, 5, (step) => {
      for (const share of [0, 0.25, 0.5, 0.75, 1]) {
        const t = step.from + share * (step.to - step.from);
        step.interpolate(t, out);
        worst = Math.max(worst, Math.abs(out[0] - Math.sin(t)));
      }
      return "continue";
    });
    expect(worst).toBeLessThan(3e-8);
  });

  it("stop where they are told and go on from there to the same end", () => {
    const integrator = make(wave, 1e-9);
    const y = new Float64Array(2);
    let stops = 0;
    integrator.restart(Float64Array.of(0, 1), 1e-3);
    while (
      integrator.advance(5, 5, (step) => {
        step.interpolate(step.to, y);
        return "stop";
      }) === "stopped"
    )
      stops++;
    expect(stops).toBeGreaterThan(3);
    expect(y[0]).toBeCloseTo(Math.sin(5), 7);
  });
});
