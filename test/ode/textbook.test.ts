import { describe, expect, it } from "vitest";
import { Odex } from "../../packages/sim/src/ode/odex.ts";
import { Rosenbrock } from "../../packages/sim/src/ode/rosenbrock.ts";
import { rodas4, rodas5p } from "../../packages/sim/src/ode/tableau.ts";
import { errorOverTolerance, integrate, systemOf, tolerance } from "../support/system.ts";
import {
  arenstorf,
  brusselator,
  protheroRobinson,
  robertson,
  type TextbookProblem,
  vanDerPol,
} from "../support/textbook.ts";

type Run = { ratio: number; steps: number };
const absolute = (problem: TextbookProblem, relative: number) => (problem === robertson ? 1e-6 : 1) * relative;

function rosenbrock(problem: TextbookProblem, tableau: typeof rodas5p, relative: number): Run {
  const abs = absolute(problem, relative);
  const integrator = new Rosenbrock(systemOf(problem), tableau, tolerance(problem.size, relative, abs), 1e6);
  const y = integrate(integrator, problem.start, problem.end, 1e-6);
  return { ratio: errorOverTolerance(y, problem.solution, relative, abs), steps: integrator.counters.steps };
}

function odex(problem: TextbookProblem, relative: number): Run {
  const abs = absolute(problem, relative);
  const integrator = new Odex(systemOf(problem), tolerance(problem.size, relative, abs), 1e7);
  const y = integrate(integrator, problem.start, problem.end, 1e-3);
  return { ratio: errorOverTolerance(y, problem.solution, relative, abs), steps: integrator.counters.steps };
}

/** Error over requested tolerance, and the steps it took, at 1e-5, 1e-7 and 1e-9: bounds close above what is reached today. */
describe("stiff textbook problems: error over requested tolerance", () => {
  const bounds: readonly [TextbookProblem, typeof rodas5p, number, readonly number[]][] = [
    [robertson, rodas5p, 1, [45, 95, 390]],
    [robertson, rodas4, 1, [70, 195, 2150]],
    [vanDerPol, rodas5p, 8, [190, 590, 2000]],
    [vanDerPol, rodas4, 2, [300, 1200, 6700]],
    [protheroRobinson, rodas5p, 1, [13, 18, 40]],
    [protheroRobinson, rodas4, 1, [13, 27, 480]],
    [brusselator, rodas5p, 8, [135, 305, 740]],
    [brusselator, rodas4, 2, [190, 560, 1750]],
  ];
  for (const [problem, tableau, ratio, steps] of bounds) {
    it.each([0, 1, 2])(`${problem.name}, ${tableau.name}, tolerance %i of three`, (k) => {
      const run = rosenbrock(problem, tableau, [1e-5, 1e-7, 1e-9][k]);
      expect(run.ratio).toBeLessThan(ratio);
      expect(run.steps).toBeLessThan(steps[k]);
    });
  }
});

describe("non-stiff textbook problems with the extrapolation method", () => {
  it.each([
    [1e-5, 38],
    [1e-7, 40],
    [1e-9, 52],
    [1e-11, 62],
  ])("Brusselator at %f", (relative, steps) => {
    const run = odex(brusselator, relative);
    expect(run.ratio).toBeLessThan(1);
    expect(run.steps).toBeLessThan(steps);
  });

  // The orbit passes the moon closely: errors grow some ten-thousandfold on the way, whoever integrates.
  it.each([
    [1e-7, 52],
    [1e-9, 63],
    [1e-11, 80],
  ])("Arenstorf's orbit closes at %f", (relative, steps) => {
    const run = odex(arenstorf, relative);
    expect(run.ratio).toBeLessThan(2e4);
    expect(run.steps).toBeLessThan(steps);
  });
});
