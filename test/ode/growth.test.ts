import { describe, expect, it } from "vitest";
import { Eigenvalues } from "../../packages/sim/src/ode/eigenvalues.ts";
import { Rosenbrock } from "../../packages/sim/src/ode/rosenbrock.ts";
import { rodas4, rodas5p } from "../../packages/sim/src/ode/tableau.ts";
import type { OdeSystem } from "../../packages/sim/src/ode/types.ts";
import { inverse, type Matrix, multiply, random, zeros } from "../support/dense.ts";
import { systemOf, tolerance } from "../support/system.ts";
import { toy } from "../support/toy.ts";

type Mode = readonly [rate: number, swing: number];

/** A matrix with these eigenvalues; those that swing come in pairs. */
function blocks(modes: readonly Mode[]): Matrix {
  const size = modes.reduce((sum, [, swing]) => sum + (swing > 0 ? 2 : 1), 0);
  const a = zeros(size);
  let k = 0;
  for (const [rate, swing] of modes) {
    a[k][k] = rate;
    if (swing > 0) {
      a[k + 1][k + 1] = rate;
      a[k][k + 1] = swing;
      a[k + 1][k] = -swing;
    }
    k += swing > 0 ? 2 : 1;
  }
  return a;
}

function eigenvaluesOf(a: Matrix): Mode[] | null {
  const found = new Eigenvalues(a.length);
  a.flat().forEach((value, k) => {
    found.matrix[k] = value;
  });
  if (!found.find()) return null;
  return found.real.map((real, k) => [real, found.imaginary[k]] as const);
}

const upper = (modes: readonly Mode[]) => modes.filter(([, swing]) => swing >= 0).sort((a, b) => a[0] - b[0]);

describe("eigenvalues", () => {
  it("are those that a matrix was made of, however it is turned", () => {
    const draw = random(11);
    for (let trial = 0; trial < 30; trial++) {
      const modes = Array.from({ length: 1 + Math.floor(6 * draw()) }, (): Mode => {
        return [20 * draw() - 10, draw() < 0.5 ? 0 : 1 + 10 * draw()];
      });
      const a = blocks(modes);
      const turn = a.map((row) => row.map(() => draw() - 0.5));
      const found = upper(eigenvaluesOf(multiply(turn, multiply(a, inverse(turn)))) ?? []);
      expect(found).toHaveLength(modes.length);
      upper(modes).forEach((mode, k) => {
        expect(found[k][0]).toBeCloseTo(mode[0], 6);
        expect(found[k][1]).toBeCloseTo(mode[1], 6);
      });
    }
  });

  it("keep a small one beside one that is 10¹² times as large, by balancing", () => {
    const a = [
      [-1e12, 1e6],
      [1, 2],
    ];
    // The characteristic polynomial: λ² + (10¹² − 2)·λ − 2·10¹² − 10⁶.
    const [small] = (eigenvaluesOf(a) ?? []).map(([real]) => real).sort((x, y) => Math.abs(x) - Math.abs(y));
    expect(small).toBeCloseTo((2e12 + 1e6) / (1e12 + 2), 9);
  });

  it("of a circle, where plain double steps stand still, and of nothing", () => {
    const circle = [0, 1, 2, 3].map((row) => [0, 1, 2, 3].map((column) => (column === (row + 1) % 4 ? 1 : 0)));
    const found = eigenvaluesOf(circle) ?? [];
    for (const [real, imaginary] of found) expect(Math.hypot(real, imaginary)).toBeCloseTo(1, 12);
    expect(found.map(([real]) => Math.round(real)).sort()).toEqual([-1, 0, 0, 1]);
    expect(eigenvaluesOf(zeros(3))).toEqual([
      [0, 0],
      [0, 0],
      [0, 0],
    ]);
    expect(eigenvaluesOf([[Number.NaN]])).toBeNull();
  });
});

/** A mode beside one that has long died away, integrated with a tolerance that sees neither. */
function integrated(tableau: typeof rodas5p, mode: Mode, feeding: OdeSystem["feeding"], end: number) {
  const a = blocks([mode, [-1e6, 0]]);
  const f = (_t: number, y: ArrayLike<number>) => a.map((row) => row.reduce((sum, value, k) => sum + value * y[k], 0));
  const system: OdeSystem = { ...systemOf({ size: a.length, f, jacobian: () => a }), feeding };
  const integrator = new Rosenbrock(system, tableau, tolerance(a.length, 1e9, 1e9), 1e6);
  const y = new Float64Array(a.length);
  integrator.restart(
    Float64Array.from(a, (_, k) => (k === 0 ? 1 : 0)),
    1e-6,
  );
  integrator.advance(end, Number.POSITIVE_INFINITY, (step) => {
    step.interpolate(step.to, y);
    return "continue";
  });
  return { grown: Math.log(Math.hypot(y[0], y[1])), steps: integrator.counters.steps };
}

describe.each([rodas4, rodas5p])("$name", (tableau) => {
  it.each([
    [1, 0],
    [1, 3],
    [1, 100],
    [1, 1000],
  ] as const)("makes of a growing mode %d ± %dj at least nine tenths of its growth", (rate, swing) => {
    const { grown } = integrated(tableau, [rate, swing], () => 1, 2);
    expect(grown).toBeGreaterThan(0.9 * 2 * rate);
    expect(grown).toBeLessThan(1.1 * 2 * rate);
  });

  it("steps over it where nothing is said to feed it, and does not pay for modes that die away", () => {
    expect(integrated(tableau, [1, 1000], undefined, 2).grown).toBeLessThan(0);
    const dying = [undefined, () => 0, () => 1].map((feeding) => integrated(tableau, [-1, 3000], feeding, 2));
    expect(new Set(dying.map(({ steps }) => steps)).size).toBe(1);
  });
});

describe("rest", () => {
  /** y'' = y' − y, left alone at its equilibrium. */
  const unstable = (feeding: () => number) =>
    toy({
      problem: () => ({
        size: 2,
        f: (_t, y) => [y[1], y[1] - y[0]],
        jacobian: () => [
          [0, 1],
          [-1, 1],
        ],
      }),
      start: [0, 0],
      end: 20,
      feeding,
    });

  it("is none at a point from which a disturbance grows, until too little time is left for it", () => {
    const alone = unstable(() => 0);
    expect(alone.run()).toBe("at rest");
    expect(alone.loop.time).toBeLessThan(1);
    const fed = unstable(() => 1);
    fed.run();
    // Its rate is one half.
    expect(fed.loop.time).toBeGreaterThan(20 - 2);
  });
});
