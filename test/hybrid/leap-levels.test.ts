import { describe, expect, test } from "vitest";
import type { Gauge } from "../../packages/sim/src/hybrid/rounds-types.ts";
import { type Beaten, type BeatParts, beating, leapOf, refusalOf } from "./beats.ts";

const TAU = 400;
const E: Beaten = { name: "E", role: { kind: "adds up" } };
/** Rises by 1 in a second; a round takes one. */
const rising = (start = 0): Beaten => ({ ...E, rate: () => 1, start });
/** Jumps to 5 at each beat, and falls by 1 until the next. */
const z: Beaten = { name: "z", role: { kind: "returns" }, start: 5, rate: () => -1 };
const gaugeOf = (levels: readonly number[], states: readonly number[] = [0], offset = 0): Gauge => ({
  probe: 0,
  states,
  levels,
  offset,
});

describe("a level of a gauge", () => {
  const under = (levels: readonly number[], state = rising(), others: Partial<BeatParts> = {}) =>
    beating({ states: [state], gauges: [gaugeOf(levels)], ...others });

  test("is never passed by a leap, wherever it stands, and the leap goes on until some rounds before it", () => {
    for (let level = 24; level < 400; level += 7.25) {
      const { state, peaks } = leapOf(under([level, 1e4]), 1000);
      expect(peaks[0].value).toBeLessThan(level);
      expect(state[0]).toBeLessThan(level - 3);
      expect(state[0]).toBeGreaterThan(level - 24);
    }
  });

  test("that is some rounds ahead lets no leap begin, one that is passed in these very rounds neither", () => {
    for (const level of [4, 7, 10]) expect(refusalOf(under([level]), 1000)).toBe("something else is due too soon");
    for (const level of [-1, 0, 0.5, 1.5, 1.99])
      expect(refusalOf(under([level]), 1000)).toBe("a level is about to be passed");
  });

  test("that was passed before lets it go on to the next", () => {
    for (const levels of [[-10], [-2.5, 2000], [2000, -10]])
      expect(leapOf(under(levels), 1000).ends.length).toBeGreaterThan(900);
    const { state } = leapOf(under([100, -10, 50, 2000]), 1000);
    expect(state[0]).toBeLessThan(47);
    expect(state[0]).toBeGreaterThan(26);
  });

  test("that falls away from what is watched does not matter, unless it is passed just now", () => {
    const falling: Beaten = { ...E, rate: () => -1 };
    expect(leapOf(under([1, 30], falling), 1000).ends.length).toBeGreaterThan(900);
    expect(refusalOf(under([-1.5], falling), 1000)).toBe("a level is about to be passed");
  });

  test("that is touched within a hundred-thousandth is reached", () => {
    // What relaxes towards 100 comes as near as it will.
    const near = (level: number) =>
      under([level], {
        name: "x",
        role: { kind: "relaxes", timeConstant: 20, feedsBack: false },
        rate: () => 5,
        start: 90,
      });
    const free = leapOf(near(100.01), 2000);
    expect(free.ends.length).toBeGreaterThan(1900);
    expect(leapOf(near(100.0005), 2000).state[0]).toBeLessThan(100 - 5e-4);
  });

  test("counts for the peaks within rounds, and for what they fall back to", () => {
    // A sum of what rises and of what swings between 5 and 4 in a round.
    const swinging = (level: number) =>
      beating({
        states: [{ ...E, rate: () => 0.01 }, z],
        beat: (y) => {
          y[1] = 5;
        },
        probes: (y) => [y[0] + y[1]],
        gauges: [gaugeOf([level], [0, 1])],
      });
    // The start of a round shows its peak: 5 and a hundredth more each round.
    const { state, peaks } = leapOf(swinging(7), 1000);
    expect(state[0]).toBeLessThan(2 - 0.03);
    expect(state[0]).toBeGreaterThan(1.75);
    expect(peaks[0].value).toBeLessThan(7);
    expect(leapOf(swinging(4.9), 1000).ends.length).toBeGreaterThan(900);
    expect(refusalOf(swinging(5.005), 1000)).toBe("a level is about to be passed");
  });

  test("is one of the peaks where what is watched swings above what it starts from", () => {
    // From 5 it rises by 1 until the beat brings it back: it is 6 at its highest, and a hundredth more each round.
    const above = (level: number, offset: number) =>
      beating({
        states: [
          { ...E, rate: () => 0.01 },
          { ...z, rate: () => 1 },
        ],
        beat: (y) => {
          y[1] = 5;
        },
        probes: (y) => [y[0] + y[1] + offset],
        gauges: [gaugeOf([level], [0, 1], offset)],
      });
    for (const offset of [0, 50]) {
      const { state, peaks } = leapOf(above(8, offset), 1000);
      expect(state[0]).toBeLessThan(2 - 0.03);
      expect(state[0]).toBeGreaterThan(1.75);
      expect(peaks[0].value).toBeCloseTo(6 + state[0] + offset, 6);
      // A level that peaks have passed before is one for what they start from.
      const low = leapOf(above(5.99, offset), 1000).state[0];
      expect(low).toBeLessThan(0.99 - 0.03);
      expect(low).toBeGreaterThan(0.75);
    }
  });

  test("is not passed by a swing that grows although every round ends as foretold", () => {
    // z rises from 5 to 6 in a round, and to 15 once E is above 3.
    const all = beating({
      states: [
        { ...E, rate: () => 0.05 },
        { ...z, rate: ({ kept }) => 1 + kept.other },
      ],
      beat: (y, { kept }) => {
        y[1] = 5;
        kept.other = y[0] > 3 ? 9 : 0;
      },
      probes: (y) => [y[1]],
      gauges: [gaugeOf([12], [1])],
    });
    const { state } = leapOf(all, 1000);
    expect(state[0]).toBeLessThanOrEqual(3.05);
    expect(state[0]).toBeGreaterThan(0.5);
  });

  test("is kept away from also where each landing takes long", () => {
    // z strays so little that it may be leapt over, and so much that it has not settled.
    for (let level = 100; level < 130; level++) {
      const all = beating({
        states: [rising(), z],
        beat: (y, { kept }) => {
          y[1] = 5 + 2.5e-9 * kept.beats;
        },
        gauges: [gaugeOf([level])],
      });
      const { state } = leapOf(all, 1000);
      expect(state[0]).toBeLessThan(level - 3);
      expect(state[0]).toBeGreaterThan(level - 24);
    }
  });
});

describe("the largest value of a gauge on the way", () => {
  test("is that of the last round where it rises, by the law of what relaxes, and so is its time", () => {
    // Each beat adds 1, and what stands right behind it still belongs to the round that it ends.
    const all = beating({
      states: [{ name: "x", role: { kind: "relaxes", timeConstant: TAU, feedsBack: false } }],
      beat: (y) => {
        y[0] += 1;
      },
      probes: (y) => [y[0] + 30],
      gauges: [gaugeOf([], [0], 30)],
    });
    const { peaks, ends, duration } = leapOf(all, 1000);
    const left = Math.exp(-1 / TAU);
    const highest = (1 - left ** ends.length) / (1 - left);
    expect(peaks).toEqual([{ value: expect.closeTo(30 + highest, 6), time: expect.closeTo(duration, 6) }]);
  });

  test("of one that relaxes upwards within a round is at the round's end", () => {
    const all = beating({
      states: [{ name: "x", role: { kind: "relaxes", timeConstant: TAU, feedsBack: false }, rate: () => 2, start: 10 }],
      beat: (y) => {
        y[0] -= 0.25;
      },
      gauges: [gaugeOf([])],
    });
    const { peaks, state, duration } = leapOf(all, 1000);
    expect(peaks).toEqual([{ value: expect.closeTo(state[0] + 0.25, 6), time: expect.closeTo(duration, 6) }]);
  });

  test("is that of the first round where it falls", () => {
    const all = beating({ states: [{ ...E, rate: () => -1, start: 100 }], gauges: [gaugeOf([])] });
    const { peaks } = leapOf(all, 1000);
    expect(peaks).toEqual([{ value: 100, time: 0 }]);
  });

  test("may be anywhere in the first of them, and is the first of several alike", () => {
    const saw = (down: number) =>
      leapOf(
        beating({
          states: [rising()],
          beat: (y) => {
            y[0] -= down;
          },
          gauges: [gaugeOf([])],
        }),
        100,
      ).peaks;
    expect(saw(2)).toEqual([{ value: expect.closeTo(1, 9), time: expect.closeTo(1, 9) }]);
    const steady = beating({
      states: [z],
      beat: (y) => {
        y[0] = 5;
      },
      gauges: [gaugeOf([])],
    });
    expect(leapOf(steady, 100).peaks).toEqual([{ value: 5, time: 0 }]);
  });

  test("is each gauge's own", () => {
    const all = beating({
      states: [rising(), { ...rising(), rate: () => 2 }],
      gauges: [gaugeOf([]), { probe: 1, states: [1], levels: [], offset: 0 }],
    });
    const { peaks, duration } = leapOf(all, 500);
    expect(peaks.map(({ value }) => value)).toEqual([duration, 2 * duration].map((value) => expect.closeTo(value, 6)));
  });
});

describe("what flows came to on the way", () => {
  const x: Beaten = { name: "x", role: { kind: "relaxes", timeConstant: TAU, feedsBack: true }, start: 1 };

  test("is known at every instant of it, of flows that windows ask for", () => {
    // The flow is 3x, and x loses e^(−1/τ) of itself in a round and gets 1.
    const all = beating({
      states: [x],
      beat: (y) => {
        y[0] += 1;
      },
      flows: (y) => [1, 3 * y[0]],
    });
    all.watcher.window(1, 1e6, () => {});
    const { ledger, duration, sums } = leapOf(all, 400);
    const left = Math.exp(-1 / TAU);
    const until = (time: number): number => {
      let [at, total] = [1, 0];
      for (let round = 0; round < Math.floor(time); round++) {
        total += 3 * TAU * at * (1 - left);
        at = at * left + 1;
      }
      return total + 3 * TAU * at * (1 - Math.exp(-(time - Math.floor(time)) / TAU));
    };
    for (const time of [0, 0.5, 1.75, 2.25, 3.5, 10.25, 11.5, 100.75, 250.5, duration - 1.25, duration - 0.01])
      expect(ledger.until(1, time) / (until(time) + 1e-9)).toBeCloseTo(time === 0 ? 0 : 1, 6);
    expect(ledger.until(1, duration)).toBeCloseTo(sums[1], 6);
    expect(() => ledger.until(0, 1)).toThrow("nothing was noted");
  });

  test("goes within a round by what was measured at the nearer end of a hop", () => {
    // Even at first; from the 60th second on it begins with nothing in each round.
    const all = beating({
      states: [{ ...E, rate: () => 1 }],
      flows: (y) => [(y[0] % 1) * (y[0] < 60 ? 0 : 2) + (y[0] < 60 ? 1 : 0)],
    });
    all.watcher.window(0, 1e6, () => {});
    const { ledger, duration } = leapOf(all, 700);
    // Early rounds are even; of late ones half of the time brings a quarter.
    for (const round of [0, 1, 2, 5, 12, 30])
      expect(ledger.until(0, round + 0.5) - ledger.until(0, round)).toBeCloseTo(0.5, 9);
    const last = Math.round(duration) - 1;
    for (const round of [120, 130, 136, last - 20, last - 1, last])
      expect(ledger.until(0, round + 0.5) - ledger.until(0, round)).toBeCloseTo(0.25, 9);
  });
});
