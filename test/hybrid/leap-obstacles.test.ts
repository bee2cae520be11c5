import { describe, expect, test } from "vitest";
import { Timer } from "../../packages/sim/src/hybrid/parts.ts";
import { once } from "../support/toy.ts";
import { type Beaten, type BeatParts, beating, leapOf, planned, refusalOf } from "./beats.ts";

const TAU = 400;
const LEFT = Math.exp(-1 / TAU);
const feeding: Beaten = { name: "x", role: { kind: "relaxes", timeConstant: TAU, feedsBack: true } };
/** Rises by 1 in a second; a round takes one. */
const rising: Beaten = { name: "E", role: { kind: "adds up" }, rate: () => 1 };
/** A beat takes it to 5, and it falls by 1 until the next. */
const z: Beaten = { name: "z", role: { kind: "returns" }, start: 5, rate: () => -1 };

describe("what must return", () => {
  const drifting = (by: (rounds: number) => number, others: Partial<BeatParts> = {}) =>
    beating({
      states: [z, rising],
      beat: (y, { kept }) => {
        y[0] = 5 + by(kept.beats);
      },
      ...others,
    });

  test("and moves on a little is leapt over only as far as it stays within a millionth", () => {
    const { ends } = leapOf(
      drifting((k) => 1.25e-7 * k),
      60,
    );
    const { ends: longer } = leapOf(
      drifting((k) => 1.25e-9 * k),
      1000,
    );
    expect(ends.length).toBeGreaterThan(30);
    expect(longer.length).toBeGreaterThan(900);
    // 5e-6 allowed: hops of 40 at most, so that 1000 rounds take many of them.
    const many = planned(
      drifting((k) => 1.25e-7 * k),
      1000,
    );
    expect(many.landings).toBeGreaterThan(15);
  });

  test.each([
    ["moves on", (k: number) => 5e-6 * k, "z does not return: it moves on by 0.0000050 a round"],
    ["moves back", (k: number) => -5e-6 * k, "z does not return: it moves on by -0.0000050 a round"],
  ])("and %s more than that in some rounds forbids a leap, and is named", (_, by, said) => {
    expect(refusalOf(drifting(by), 1000)).toBe(said);
  });

  test("and stops returning some rounds later: up to there", () => {
    const parts: BeatParts = {
      states: [z, { ...rising }],
      beat: (y) => {
        y[0] = 5 + 1e-3 * Math.max(0, y[1] - 30);
      },
    };
    const { result, landings } = planned(beating(parts), 1000);
    if ("reason" in result) throw new Error(result.reason);
    expect(result.state[1]).toBeLessThanOrEqual(31);
    expect(result.state[1]).toBeGreaterThan(10);
    expect(landings).toBeLessThan(20);
    const near = { ...parts, states: [z, { ...rising, start: 24 }] };
    expect(refusalOf(beating(near), 1000)).toContain("z does not return: it moves on by");
  });

  test("is named where it strays most, whatever stands behind it", () => {
    const all = beating({
      states: [z, { ...z, name: "w" }],
      beat: (y, { kept }) => {
        y[0] = 5 + 5e-6 * kept.beats;
        y[1] = 5 + 2.5e-6 * kept.beats;
      },
    });
    expect(refusalOf(all, 1000)).toContain("z does not return");
    // Where there is no room for a hop it is not to blame.
    expect(
      refusalOf(
        drifting((k) => 2.5e-6 * k),
        11,
      ),
    ).toBe("something else is due too soon");
  });

  test("are small ones by their scale", () => {
    const small = (scale: number) =>
      beating({
        states: [{ ...z, start: 0, rate: () => 0, scale }],
        beat: (y, { kept }) => {
          y[0] = 1e-9 * kept.beats;
        },
      });
    expect(leapOf(small(1), 200).ends.length).toBeGreaterThan(150);
    expect(refusalOf(small(1e-3), 200)).toContain("z does not return");
  });

  test("are what is left of timers, too", () => {
    const timed = (by: number) =>
      drifting(() => 0, {
        timers: ({ kept }) => {
          const other: Timer = new Timer(() => {});
          const again = new Timer(() => {
            other.start(3 + by * kept.beats);
            again.start(1);
          });
          again.start(0.5);
          return [other, again];
        },
      });
    expect(leapOf(timed(0), 200).ends.length).toBeGreaterThan(150);
    expect(leapOf(timed(1e-9), 200).ends.length).toBeGreaterThan(150);
    expect(refusalOf(timed(1e-6), 200)).toBe("a timer does not keep step with the rounds");
    expect(refusalOf(timed(-1e-6), 200)).toBe("a timer does not keep step with the rounds");
    // It is a millionth of the round that counts, however short it is.
    const short = (by: number) =>
      drifting(() => 0, {
        period: () => 0.01,
        timers: ({ kept }) => {
          const other: Timer = new Timer(() => {});
          const again = new Timer(() => {
            other.start(3 + by * kept.beats);
            again.start(0.01);
          });
          again.start(0.005);
          return [other, again];
        },
      });
    expect(leapOf(short(1e-12), 2).ends.length).toBeGreaterThan(150);
    expect(refusalOf(short(1e-8), 2)).toBe("a timer does not keep step with the rounds");
  });

  test("may go with a state that feeds back: so much of a timer is foretold, too", () => {
    const all = beating({
      states: [feeding],
      beat: (y) => {
        y[0] += 1;
      },
      timers: (world) => {
        const other: Timer = new Timer(() => {});
        const again = new Timer(() => {
          other.start(3 + world.y[0] / 1000);
          again.start(1);
        });
        again.start(0.5);
        return [other, again];
      },
    });
    expect(leapOf(all, 500).ends.length).toBeGreaterThan(400);
  });

  test("may take some rounds after a landing until it does", () => {
    const all = beating({
      states: [feeding, { ...z, rate: () => 0 }],
      beat: (y) => {
        y[0] += 1;
        y[1] = y[0] + 0.02 * y[1];
      },
    });
    const { state, ends } = leapOf(all, 500);
    let [at, exact] = [0, 5];
    for (let n = 0; n < ends.length; n++) {
      at = at * LEFT + 1;
      exact = at + 0.02 * exact;
    }
    expect(ends.length).toBeGreaterThan(400);
    expect(state[1] / exact).toBeCloseTo(1, 5);
  });
});

test("a state that is small beside its scale may be as wild as it likes", () => {
  const wild = (scale: number) =>
    beating({
      states: [{ name: "E", role: { kind: "adds up" }, scale }],
      beat: (y, { kept }) => {
        y[0] += 1e-9 * Math.sin(kept.beats ** 2);
      },
    });
  expect(leapOf(wild(100), 500).ends.length).toBeGreaterThan(400);
  expect(refusalOf(wild(1e-6), 500)).toBe("what a round adds changes too much from one to the next");
});

describe("what happens otherwise", () => {
  /** At a level of what rises by 1 a round something else is logged. */
  const surprise = (start: number, level = 20.5) =>
    beating({
      states: [{ ...rising, start }],
      guards: (world) => [
        once(
          () => world.y[0] - level,
          () => world.journal.log(5, "surprise", ""),
        ),
      ],
    });

  test("in the next rounds forbids a leap", () => {
    for (const start of [20, 19, 20.2])
      expect(refusalOf(surprise(start), 1000)).toBe("the next round is not like the last");
  });

  test("some rounds later ends it before", () => {
    expect(refusalOf(surprise(15), 1000)).toBe("after some rounds something else happens in them");
    for (let level = 30.5; level < 200; level += 10) {
      const { result, landings } = planned(surprise(0, level), 1000);
      if ("reason" in result) throw new Error(result.reason);
      expect(result.state[0]).toBeLessThan(level);
      expect(result.state[0]).toBeGreaterThan(0.5 * level - 10);
      expect(landings).toBeLessThan(30);
    }
  });

  test("at a time known before is put off while rounds are tried", () => {
    const deadline = () => {
      const due: Timer = new Timer(() => all.world.journal.log(7, "due", ""));
      due.start(1.5);
      const all = beating({ states: [rising], timers: () => [due] });
      return { all, due };
    };
    expect(refusalOf(deadline().all, 1000)).toBe("the next round is not like the last");
    const { all, due } = deadline();
    expect(leapOf(all, 1000, { prepare: () => due.stop() }).ends.length).toBeGreaterThan(900);
  });

  test("modes go with the state: those of where it ends, not those of where it was tried last", () => {
    const all = beating({
      states: [{ ...rising, start: 0 }],
      beat: (y, { kept }) => {
        kept.other = Math.floor(y[0] / 100);
      },
    });
    const { modes, state } = leapOf(all, 1000);
    all.world.kept.other = -1;
    all.main.stop();
    modes();
    expect(all.world.kept.other).toBe(Math.floor(state[0] / 100));
    expect(all.main.remaining).toBeCloseTo(1, 12);
  });
});
