import { describe, expect, it } from "vitest";
import { BalanceCheck } from "../../packages/sim/src/hybrid/balance.ts";
import { FirstSteps } from "../../packages/sim/src/hybrid/first-steps.ts";
import { ASLEEP } from "../../packages/sim/src/hybrid/parts.ts";
import { Rosenbrock } from "../../packages/sim/src/ode/rosenbrock.ts";
import { rodas5p } from "../../packages/sim/src/ode/tableau.ts";
import { systemOf, tolerance } from "../support/system.ts";
import { clock, toy, watched } from "../support/toy.ts";

describe("a step that does not balance", () => {
  /** A tank that a pipe of one litre a second fills; nothing is allowed. */
  const tank = {
    amount: (y: ArrayLike<number>) => y[0],
    gain: (inflow: ArrayLike<number>) => inflow[0],
    allowed: () => 1e-9,
  };
  const of = (value: number) => Float64Array.of(value);

  it("is taken again until it does, and counted from where the last one ended", () => {
    const check = new BalanceCheck(tank);
    check.start(of(5));
    expect(check.open(of(7), of(2), of(0))).toBe(false);
    expect(check.open(of(8), of(1.5), of(2))).toBe(true);
    expect(check.open(of(7.5), of(0.5), of(2))).toBe(false);
    expect(check.open(of(8), of(0.5), of(2.5))).toBe(false);
  });

  it("is taken as it is where no length helps", () => {
    const check = new BalanceCheck(tank);
    check.start(of(0));
    const answers = Array.from({ length: 9 }, () => check.open(of(1), of(2), of(0)));
    expect(answers).toEqual([...new Array(8).fill(true), false]);
    expect(new BalanceCheck(null).open(of(1), of(2), of(0))).toBe(false);
  });

  it("starts where it started and is half as long", () => {
    const integrator = new Rosenbrock(
      systemOf({ size: 1, f: (_t, y) => [-y[0]], jacobian: () => [[-1]] }),
      rodas5p,
      tolerance(1, 1e-3, 1e-3),
      100,
    );
    integrator.restart(of(1), 0.1);
    const seen: [number, number][] = [];
    integrator.advance(1, 0.1, ({ from, to }) => {
      seen.push([from, to]);
      return seen.length < 3 ? "retake" : "stop";
    });
    expect(seen).toEqual([0.1, 0.05, 0.025].map((to) => [0, to]));
    expect(integrator.counters).toMatchObject({ steps: 1, rejected: 2 });
  });
});

describe("the first step after a change", () => {
  it("is known where the same guards and timers acted in the same order", () => {
    const steps = new FirstSteps();
    const change = (...actors: number[]) => {
      steps.open();
      for (const actor of actors) steps.acted(actor);
      return steps.close();
    };
    expect(change(1, 2)).toBe(Number.POSITIVE_INFINITY);
    steps.accepted(3e-6);
    steps.accepted(5e-3);
    expect(change(2, 1)).toBe(Number.POSITIVE_INFINITY);
    steps.accepted(4e-6);
    expect(change(1, 2)).toBe(3e-6);
    expect(change(2, 1)).toBe(4e-6);
  });
});

describe("a guard that sleeps", () => {
  it("is asked once a segment and no more", () => {
    let asked = 0;
    const { run, work } = toy({
      problem: clock,
      start: [0],
      end: 5,
      maxStep: 0.1,
      guards: () => [
        watched(
          () => {
            asked++;
            return ASLEEP;
          },
          () => {},
        ),
      ],
    });
    run();
    expect(work.steps).toBeGreaterThan(50);
    // Once to settle and once at the start of the only segment.
    expect(asked).toBe(2);
  });
});
