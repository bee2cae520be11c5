import { describe, expect, test } from "vitest";
import { geometric, under, usual } from "./leaping.ts";

describe("while a leap is worked out", () => {
  test("the one who runs gets a say every so many steps", () => {
    const { loop, rounds, integrator, leaps } = under({ ...usual, step: 0.01 }, 500);
    const most = Array.from({ length: 20_000 }, () => {
      const before = integrator.counters.steps;
      rounds().advance(loop, 50);
      return integrator.counters.steps - before;
    });
    expect(loop.status).toBe("finished");
    expect(leaps).toHaveLength(1);
    expect(Math.max(...most)).toBeLessThan(300);
    expect(most.filter((steps) => steps >= 50).length).toBeGreaterThan(20);
  });

  test("it can be given up, as if it had never been tried", () => {
    const { loop, rounds, world, tries, leaps } = under({ ...usual, step: 0.01 }, 300);
    rounds().abandon();
    expect(tries()).toBe(0);
    while (world.journal === loop) rounds().advance(loop, 20);
    const { events, time } = loop;
    const here = [events.length, time, ...loop.state];
    rounds().abandon();
    expect(tries()).toBe(1);
    expect(world.journal).toBe(loop);
    expect([events.length, loop.time, ...loop.state]).toEqual(here);
    expect(world.kept.beats).toBe(events.length);
    while (loop.advance(1000) === "running");
    expect(leaps).toEqual([]);
    expect(loop.events.map(({ time: at }) => at)).toEqual(
      Array.from({ length: 300 }, (_, k) => expect.closeTo(k + 1, 8)),
    );
    expect(loop.state[0]).toBeCloseTo(geometric(300), 8);
  });
});

describe("the first round after a leap", () => {
  /** After each leap a beat adds to E what nobody foretold. */
  const spoilt = (by: number, state = 1) => {
    let more = 0;
    return under(
      {
        ...usual,
        beat: (y) => {
          y[0] += 1;
          y[2] = 5;
          y[state] += more;
          more = 0;
        },
      },
      1000,
      () => {
        more = by;
      },
    ).run().loop;
  };

  test("must be what it was foretold to be: else the run has failed, and says where", () => {
    for (const [by, state, name] of [
      [0.05, 1, "E"],
      [-0.05, 1, "E"],
      [0.01, 0, "x"],
      [Number.NaN, 1, "E"],
    ] as const) {
      const { status, failure, time } = spoilt(by, state);
      expect([status, failure]).toEqual([
        "failed",
        { reason: `after rounds that were worked out at once ${name} is not what it should be`, state },
      ]);
      expect(time).toBeLessThan(1000);
    }
  });

  test("may differ by less than a hundred-thousandth of what it is", () => {
    expect(spoilt(0.005).status).toBe("finished");
    expect(spoilt(-0.005).status).toBe("finished");
  });
});
