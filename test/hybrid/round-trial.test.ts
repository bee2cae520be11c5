import { describe, expect, test } from "vitest";
import { Timer } from "../../packages/sim/src/hybrid/parts.ts";
import { RoundTrial, type TriedRound } from "../../packages/sim/src/hybrid/round-trial.ts";
import type { LoggedEvent } from "../../packages/sim/src/hybrid/types.ts";
import { ExcursionWatch } from "../../packages/sim/src/hybrid/watch.ts";
import { watched } from "../support/toy.ts";
import { type Beating, type BeatParts, beating, beatOnly, drained, patternOf } from "./beats.ts";

/** Relaxes with 2 s, gets 1 at each beat. */
const parts: BeatParts = {
  states: [
    { name: "x", role: { kind: "relaxes", timeConstant: 2, feedsBack: false }, start: 1 },
    { name: "E", role: { kind: "adds up" }, rate: () => 3 },
  ],
  beat: (y) => {
    y[0] += 1;
  },
  flows: () => [1, 10],
  tallies: true,
};
const LEFT = Math.exp(-1 / 2);

function trialOf(all: Beating, pattern: readonly LoggedEvent[] = beatOnly): () => TriedRound | null {
  const trial = new RoundTrial(all, Float64Array.from(all.start), pattern, 1);
  return () => drained(trial.round()).result;
}

describe("rounds tried on the side", () => {
  test("are measured one after another: where they begin and end, and what each alone adds", () => {
    const next = trialOf(beating(parts));
    let start = [1, 0];
    for (let n = 0; n < 3; n++) {
      const round = next();
      const end = [start[0] * LEFT + 1, start[1] + 3];
      expect(round).toMatchObject({ period: expect.closeTo(1, 12) });
      expect(Array.from(round?.start ?? [])).toEqual(start.map((value) => expect.closeTo(value, 12)));
      expect(Array.from(round?.end ?? [])).toEqual(end.map((value) => expect.closeTo(value, 12)));
      expect(Array.from(round?.sums ?? [])).toEqual([1, 10, 3, 5].map((value) => expect.closeTo(value, 12)));
      start = end;
    }
  });

  test("note what is left of each timer at their end, and of an idle one that it is idle", () => {
    const next = trialOf(
      beating({
        ...parts,
        period: ({ kept }) => 1 + kept.beats / 4,
        timers: () => {
          const late = new Timer(() => {});
          late.start(9);
          return [new Timer(() => {}), late];
        },
      }),
    );
    // The timer that beats, the one that is idle half-way, and these two.
    expect(Array.from(next()?.kept ?? [])).toEqual([1.25, -1, -1, 8]);
    expect(Array.from(next()?.kept ?? [])).toEqual([1.5, -1, -1, 6.75]);
  });

  test("tell their events by the time since they began", () => {
    const next = trialOf(beating({ ...parts, halfWay: true, period: () => 0.5 }), patternOf([1, "half"], [0, "beat"]));
    for (let n = 0; n < 2; n++)
      expect(next()?.events).toEqual([
        { source: 1, code: "half", offset: expect.closeTo(0.5, 12) },
        { source: 0, code: "beat", offset: expect.closeTo(0.75, 12) },
      ]);
  });

  test("have the peak of each gauge, of this round alone", () => {
    const falling = beating({
      ...parts,
      probes: (y) => [y[1], 20 - y[0]],
      gauges: [1, 0].map((probe) => ({ probe, states: [], levels: [], offset: 0 })),
    });
    const next = trialOf(falling);
    const after = LEFT + 1;
    expect(next()?.peaks).toEqual([
      { value: expect.closeTo(20 - LEFT, 9), offset: expect.closeTo(1, 9) },
      { value: expect.closeTo(3, 9), offset: expect.closeTo(1, 9) },
    ]);
    expect(next()?.peaks).toEqual([
      { value: expect.closeTo(20 - after * LEFT, 9), offset: expect.closeTo(1, 9) },
      { value: expect.closeTo(6, 9), offset: expect.closeTo(1, 9) },
    ]);
  });

  test("have a peak at their very beginning where all only falls", () => {
    const all = beating({
      states: [{ name: "E", role: { kind: "adds up" }, rate: () => -1 }],
      gauges: [{ probe: 0, states: [0], levels: [], offset: 0 }],
    });
    const next = trialOf(all);
    expect(next()?.peaks).toEqual([{ value: 0, offset: 0 }]);
    const [second] = next()?.peaks ?? [];
    expect(second.offset).toBeGreaterThanOrEqual(0);
    expect(second.value).toBeLessThan(-1 + 0.12);
    expect(second.value).toBeGreaterThan(-1.12);
  });

  test("sum up excursions by twins of those that are asked in the run, which hear nothing of it", () => {
    const all = beating({ ...parts, probes: (y) => [y[1]] });
    const [above, below, off] = [
      new ExcursionWatch(0, 4, 1),
      new ExcursionWatch(0, 1, -1),
      new ExcursionWatch(0, 0, 1),
    ];
    off.enabled = false;
    above.squares = true;
    all.watcher.excursions.push(above, below, off);
    const next = trialOf(all);
    const beyond = () => Array.from(next()?.sums ?? []).slice(4);
    // E is 3t: below 1 for a third of a second, above 4 from 4/3 s on. Time, excess and, where it is asked for, square of each.
    const square = 3 * (8 - (4 / 3) ** 3);
    expect(beyond()).toEqual([0, 0, 0, 1 / 3, 1 / 6, 0, 0, 0, 0].map((value) => expect.closeTo(value, 7)));
    expect(beyond()).toEqual([2 / 3, 2 / 3, square, 0, 0, 0, 0, 0, 0].map((value) => expect.closeTo(value, 6)));
    expect([above.total, below.total, off.total]).toEqual([0, 0, 0]);
    expect(Array.from(all.watcher.totals)).toEqual([0, 0]);
  });

  test("note the course of flows that windows of the run ask for", () => {
    const all = beating({ ...parts, flows: (y) => [1, y[1]] });
    all.watcher.window(1, 5, () => {});
    const next = trialOf(all);
    // The flow is 3t, and 3 + 3t in the second round.
    expect(next()?.course.share(0, 0.5)).toBeCloseTo(0.25, 12);
    expect(next()?.course.share(0, 0.5)).toBeCloseTo(1.875 / 4.5, 12);
  });

  test("pause every so many steps", () => {
    const pauses = (step: number) => {
      const all = beating({ ...parts, step });
      return drained(new RoundTrial(all, Float64Array.from(all.start), beatOnly, 1).round()).pauses;
    };
    expect(pauses(1e-3)).toBeGreaterThanOrEqual(5);
    expect(pauses(2e-4)).toBeGreaterThanOrEqual(25);
    expect(pauses(2e-4)).toBeLessThan(100);
  });
});

describe("what is no round like the others", () => {
  const other = (after: number, code: string, source = 0, times = 1) =>
    beating({
      ...parts,
      timers: (world) => {
        const timer = new Timer(() => {
          for (let k = 0; k < times; k++) world.journal.log(source, code, "");
        });
        timer.start(after);
        return [timer];
      },
    });

  test("is one with another event in it, from another source, or one too many at once", () => {
    expect(trialOf(other(0.5, "else"))()).toBeNull();
    expect(trialOf(other(0.5, "beat", 4))()).toBeNull();
    expect(trialOf(other(1, "beat"))()).toBeNull();
    expect(trialOf(other(1, "else", 0, 2))()).toBeNull();
    const later = trialOf(other(1.5, "else"));
    expect(later()).not.toBeNull();
    expect(later()).toBeNull();
  });

  test("is one that lacks what should be between", () => {
    expect(trialOf(beating(parts), patternOf([1, "half"], [0, "beat"]))()).toBeNull();
    expect(trialOf(beating(parts), patternOf([0, "beat"], [0, "beat"]))()?.period).toBeCloseTo(2, 12);
  });

  test("is one in which modes do not settle", () => {
    const all = beating({
      ...parts,
      // Above zero from half a round on, whatever is done.
      guards: (world) => [
        watched(
          () => world.y[1] - 1.5,
          () => {},
        ),
      ],
    });
    expect(trialOf(all)()).toBeNull();
  });
});
