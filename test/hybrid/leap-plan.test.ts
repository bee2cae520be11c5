import { describe, expect, test } from "vitest";
import { ExcursionWatch } from "../../packages/sim/src/hybrid/watch.ts";
import { type Beaten, type BeatParts, beating, leapOf, patternOf, planned, refusalOf } from "./beats.ts";

const TAU = 400;
const LEFT = Math.exp(-1 / TAU);
/** Each beat adds 1 to it, and between two it relaxes. */
const x: Beaten = { name: "x", role: { kind: "relaxes", timeConstant: TAU, feedsBack: false } };
const feeding: Beaten = { name: "x", role: { kind: "relaxes", timeConstant: TAU, feedsBack: true } };
const sum: Beaten = { name: "E", role: { kind: "adds up" } };
/** A beat takes it to 5, and it falls by 1 until the next. */
const z: Beaten = { name: "z", role: { kind: "returns" }, start: 5, rate: () => -1 };

/** x after n beats from 0. */
const geometric = (n: number): number => (1 - LEFT ** n) / (1 - LEFT);

/** Plainly: a map n times over. */
function times<T>(n: number, next: (value: T) => T, first: T): T {
  let value = first;
  for (let k = 0; k < n; k++) value = next(value);
  return value;
}

describe("a leap over rounds whose map is known", () => {
  const parts: BeatParts = {
    states: [x, { ...sum, rate: () => 2 }, z],
    beat: (y) => {
      y[0] += 1;
      y[2] = 5;
    },
    flows: () => [0.25, 7],
    tallies: true,
  };

  test("is theirs to the last digits, over ten thousand of them from a handful of landings", () => {
    const all = beating(parts);
    const { result, landings } = planned(all, 10_000);
    if ("reason" in result) throw new Error(result.reason);
    const { ends, duration, period, state, events, sums } = result;
    const n = ends.length;
    expect(n).toBeGreaterThan(9980);
    expect(landings).toBeLessThan(10);
    expect(duration).toBeCloseTo(n, 9);
    expect(period).toBeCloseTo(1, 12);
    expect(ends.every((end, k) => Math.abs(end - k - 1) < 1e-9)).toBe(true);
    expect(state[0]).toBeCloseTo(geometric(n), 9);
    expect(state[1]).toBeCloseTo(2 * n, 8);
    expect(state[2]).toBe(5);
    expect(events).toEqual([{ source: 0, code: "beat", offset: expect.closeTo(1, 12) }]);
    expect(Array.from(sums)).toEqual([0.25 * n, 7 * n, 3 * n, 5 * n].map((value) => expect.closeTo(value, 6)));
  });

  test("leaves whoever runs some rounds before what is due, and is made wherever more than twenty lie ahead", () => {
    let shortest = Number.POSITIVE_INFINITY;
    for (let limit = 0.5; limit < 60; limit++) {
      const { result } = planned(beating(parts), limit);
      if ("reason" in result) {
        expect(result.reason).toBe("something else is due too soon");
        expect(limit).toBeLessThan(20);
        continue;
      }
      shortest = Math.min(shortest, limit);
      expect(result.duration).toBeLessThanOrEqual(limit - 3);
      expect(result.duration).toBeGreaterThan(limit - 20);
      expect(result.state[0]).toBeCloseTo(geometric(result.ends.length), 9);
    }
    expect(shortest).toBeGreaterThan(10);
  });

  test("tells events by their time in a round", () => {
    const all = beating({ ...parts, halfWay: true, period: () => 0.2 });
    const { events, ends, period } = leapOf(all, 300, { pattern: patternOf([1, "half"], [0, "beat"]) });
    expect(ends.length).toBeGreaterThan(450);
    expect(period).toBeCloseTo(0.6, 12);
    expect(events).toEqual([
      { source: 1, code: "half", offset: expect.closeTo(0.5, 12) },
      { source: 0, code: "beat", offset: expect.closeTo(0.6, 12) },
    ]);
  });

  test("sums up what was beyond a level in every round, where somebody still asks", () => {
    const all = beating(parts);
    const [above, below, idle] = [4.5, 4.25, 1].map((level, k) => new ExcursionWatch(2, level, k === 1 ? -1 : 1));
    idle.enabled = false;
    above.squares = true;
    all.watcher.excursions.push(above, below, idle);
    const { sums, ends } = leapOf(all, 1000);
    const n = ends.length;
    // From 4 to 5 in a round: time, excess and, where it is asked for, square of each.
    const square = (5 ** 3 - 4.5 ** 3) / 3;
    expect(Array.from(sums.slice(4))).toEqual(
      [0.5 * n, 0.125 * n, square * n, 0.25 * n, 0.03125 * n, 0, 0, 0, 0].map((value) => expect.closeTo(value, 5)),
    );
    // Those that are asked have seen nothing of it.
    expect([above.total, below.total, all.watcher.totals[0]]).toEqual([0, 0, 0]);
  });

  test("is worked out with pauses of no more than some hundred steps", () => {
    const coarse = planned(beating(parts), 100);
    const fine = planned(beating({ ...parts, step: 1e-3 }), 100);
    expect(fine.landings).toBe(coarse.landings);
    // Two rounds at least a landing, and a thousand steps each.
    expect(fine.pauses).toBeGreaterThanOrEqual(fine.landings * 2 * 4);
  });
});

describe("a round that depends on a state that feeds back", () => {
  test("linearly, with all its gains and its length: the map is learnt and exact", () => {
    const all = beating({
      states: [feeding, sum, z],
      beat: (y, { kept }) => {
        // By what it was when the round began.
        y[0] += 1;
        y[1] += 3 * kept.other;
        y[2] = 5 + kept.other / 10;
        kept.other = y[0];
      },
      halfWay: true,
      period: ({ y }) => 1 + y[0] / 1000,
    });
    const { state, ends, duration } = leapOf(all, 600, { pattern: patternOf([1, "half"], [0, "beat"]) });
    const n = ends.length;
    const exact = times(
      n,
      ({ at, total, time }) => {
        const length = 1 + (at * Math.exp(-0.5 / TAU)) / 2000;
        return { before: at, at: at * Math.exp(-length / TAU) + 1, total: total + 3 * at, time: time + length };
      },
      { before: 0, at: 0, total: 0, time: 0 },
    );
    expect(n).toBeGreaterThan(300);
    expect(state[0]).toBeCloseTo(exact.at, 7);
    expect(state[1] / exact.total).toBeCloseTo(1, 9);
    expect(duration).toBeCloseTo(exact.time, 7);
    expect(state[2]).toBeCloseTo(5 + exact.before / 10, 5);
  });

  test("gently bent: it is kept to a hundred-thousandth by landing more often", () => {
    const bent = (at: number): number => at + 1 - 0.01 * (at / TAU) ** 2;
    const all = beating({
      states: [{ ...feeding, start: 100 }],
      beat: (y) => {
        y[0] = bent(y[0]);
      },
    });
    const { result, landings } = planned(all, 2000);
    if ("reason" in result) throw new Error(result.reason);
    const exact = times(result.ends.length, (at) => bent(at * LEFT), 100);
    expect(Math.abs(result.state[0] / exact - 1)).toBeLessThan(1e-5);
    expect(result.ends.length).toBeGreaterThan(1500);
    expect(landings).toBeGreaterThan(5);
  });

  test("wildly: no leap, for what a round adds changes too much", () => {
    const all = beating({
      states: [{ ...feeding, role: { kind: "relaxes", timeConstant: 1e9, feedsBack: true }, start: 0.3 }],
      beat: (y) => {
        y[0] = 4 * y[0] * (1 - y[0]);
      },
    });
    expect(refusalOf(all, 1000)).toBe("what a round adds changes too much from one to the next");
  });
});
