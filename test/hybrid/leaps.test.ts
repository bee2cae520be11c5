import { describe, expect, test } from "vitest";
import { Timer } from "../../packages/sim/src/hybrid/parts.ts";
import type { Gauge, Leap } from "../../packages/sim/src/hybrid/rounds-types.ts";
import { ExcursionWatch } from "../../packages/sim/src/hybrid/watch.ts";
import type { Beaten, BeatParts } from "./beats.ts";
import { usual as beats, geometric, rising, TAU, under, x, z } from "./leaping.ts";

const usual: BeatParts = { ...beats, flows: () => [0.5, 3], tallies: true };
const gaugeOf = (probe: number, ...levels: readonly number[]): Gauge => ({ probe, states: [probe], levels, offset: 0 });

const leapt = (leaps: readonly Leap[]): number => leaps.reduce((sum, leap) => sum + leap.rounds, 0);

describe("a run over rounds that are alike", () => {
  test("comes to what it comes to round by round: states, flows, tallies and what lies beyond levels", () => {
    const states: Beaten[] = [{ ...x, role: { kind: "relaxes", timeConstant: TAU, feedsBack: true } }, rising, z];
    const all = under({ ...usual, states, gauges: [gaugeOf(0, 10), gaugeOf(1, 1500)] }, 3000.5);
    const [saw, once] = [new ExcursionWatch(2, 4.5, 1), new ExcursionWatch(0, 10, 1)];
    all.watcher.excursions.push(saw, once);
    const { loop, world, leaps, watcher, rounds } = all.run();
    expect(loop.status).toBe("finished");
    expect(leapt(leaps)).toBeGreaterThan(2900);
    expect(leaps.length).toBeGreaterThan(1);
    expect(loop.time).toBeCloseTo(3000.5, 8);
    expect(loop.state[0]).toBeCloseTo(geometric(3000) * Math.exp(-0.5 / TAU), 7);
    expect(loop.state[1]).toBeCloseTo(3000.5, 7);
    expect(loop.state[2]).toBeCloseTo(4.5, 8);
    expect(world.kept.tallies).toEqual([9000, 15_000].map((tally) => expect.closeTo(tally, 6)));
    const { carried, refusal } = rounds();
    expect(refusal).toBeNull();
    expect(watcher.totals.map((total, f) => total + carried.flows[f])).toEqual(
      [1500.25, 9001.5].map((total) => expect.closeTo(total, 6)),
    );
    expect(saw.total + carried.excursions[0].total).toBeCloseTo(1500.5, 5);
    expect(saw.area + carried.excursions[0].area).toBeCloseTo(3001 / 8, 5);
    // x gets above 10 with the eleventh beat, and does not fall so far until the next.
    let area = 0;
    for (let n = 11; n <= 3000; n++) {
      const length = n < 3000 ? 1 : 0.5;
      area += geometric(n) * TAU * (1 - Math.exp(-length / TAU)) - 10 * length;
    }
    expect(once.total + carried.excursions[1].total).toBeCloseTo(2989.5, 5);
    expect((once.area + carried.excursions[1].area) / area).toBeCloseTo(1, 7);
    // A sawtooth is beyond for half a second; what stays beyond does so over all leaps.
    expect(saw.longest).toBeCloseTo(0.5, 6);
    expect(once.longest).toBeCloseTo(2989.5, 5);
  });

  test("tells of each leap: when, how many rounds, what a round is, what was highest and why nothing is known between", () => {
    const { loop, leaps } = under({ ...usual, gauges: [gaugeOf(1)] }, 1000).run();
    expect(leaps).toHaveLength(1);
    const [{ from, to, rounds, period, ends, events, peaks }] = leaps;
    expect(to - from).toBeCloseTo(rounds, 8);
    expect(period).toBeCloseTo(1, 12);
    expect(ends).toHaveLength(rounds);
    expect([ends[0] - from, ends.at(-1)]).toEqual([expect.closeTo(1, 9), expect.closeTo(to, 9)]);
    expect(events).toEqual([{ source: 0, code: "beat", offset: expect.closeTo(1, 12) }]);
    expect(peaks).toEqual([{ probe: 1, value: expect.closeTo(to, 6), time: expect.closeTo(to, 6) }]);
    const told = loop.events.findIndex(({ code }) => code === "leapt");
    expect(loop.events[told]).toMatchObject({ source: 9, time: expect.closeTo(to, 9), sincePrevious: to - from });
    expect(loop.events[told].cause).toBe(
      `${rounds} rounds of 1.000 s, each as the one before, were worked out at once: nothing new happens in them`,
    );
    // All other events are a second apart, as ever.
    for (const [k, { time }] of loop.events.entries()) {
      expect(time - Math.round(time)).toBeCloseTo(0, 8);
      if (k > told) expect(time).toBeCloseTo(to + k - told, 8);
    }
  });

  test("leaps where two hundred lie ahead, and thirty once it has", () => {
    for (const end of [50, 190]) {
      const few = under(usual, end).run();
      expect([few.leaps, few.rounds().refusal, few.tries()]).toEqual([[], null, 0]);
    }
    expect(leapt(under(usual, 215).run().leaps)).toBeGreaterThan(190);
    const upTo = (end: number) =>
      under({ ...usual, gauges: [gaugeOf(1, 300)] }, end)
        .run()
        .leaps.map(({ to }) => to > 300);
    expect(upTo(400)).toEqual([false, true]);
    expect(upTo(325)).toEqual([false]);
  });

  test("does so also where a round is more than one event, whichever of them it begins with", () => {
    const { loop, leaps } = under({ ...usual, halfWay: true, gauges: [gaugeOf(1, 700)] }, 2000.25).run();
    expect(leaps.length).toBeGreaterThan(1);
    expect(leapt(leaps)).toBeGreaterThan(1900);
    for (const { events } of leaps) expect(events.map(({ code }) => code).toSorted()).toEqual(["beat", "half"]);
    expect(loop.state[0]).toBeCloseTo(geometric(2000) * Math.exp(-0.25 / TAU), 7);
    expect(loop.state[2]).toBeCloseTo(4.75, 8);
  });

  test("hands windows what they came to, wherever they end", () => {
    const all = under({ ...usual, flows: (y) => [1, y[2]] }, 1000);
    const found: (readonly [number, number])[] = [];
    for (const end of [2.5, 300.25, 500, 996.5]) all.watcher.window(1, end, (sum) => found.push([end, sum]));
    expect(leapt(all.run().leaps)).toBeGreaterThan(900);
    // z is 5 less the time since the last beat.
    const until = (time: number) => {
      const late = time - Math.floor(time);
      return 4.5 * Math.floor(time) + 5 * late - late ** 2 / 2;
    };
    expect(found.toSorted(([a], [b]) => a - b)).toEqual(
      [2.5, 300.25, 500, 996.5].map((end) => [end, expect.closeTo(until(end), 5)]),
    );
  });
});

describe("what has a time of its own", () => {
  test("happens at that very time: leaps end before it and go on behind it", () => {
    const due = [500.3, 1200.6];
    const { loop, leaps } = under(
      {
        ...usual,
        timers: (world) =>
          due.map((time, k) => {
            const timer = new Timer(() => world.journal.log(3 + k, "due", ""));
            timer.start(time);
            return timer;
          }),
      },
      2000,
    ).run();
    const happened = loop.events.filter(({ code }) => code === "due").map(({ time }) => time);
    expect(happened).toEqual(due.map((time) => expect.closeTo(time, 8)));
    for (const [from, to] of [
      [0, 500],
      [501, 1200],
      [1201, 2000],
    ] as const)
      expect(leapt(leaps.filter((leap) => leap.from >= from && leap.to <= to))).toBeGreaterThan(0.9 * (to - from) - 20);
    expect(loop.state[0]).toBeCloseTo(geometric(2000), 7);
  });

  test("and goes neither with the rounds nor towards its time forbids leaps", () => {
    const { leaps, rounds, tries } = under(
      {
        ...usual,
        timers: (world) => {
          const other: Timer = new Timer(() => {});
          const again = new Timer(() => {
            other.start(3 + 1e-4 * world.kept.beats);
            again.start(1);
          });
          again.start(0.5);
          return [other, again];
        },
      },
      400,
    ).run();
    expect([leaps, tries()]).toEqual([[], 0]);
    expect(rounds().refusal).toBe("a timer does not keep step with the rounds");
  });
});

describe("why there was no leap", () => {
  test("is a state that should return", () => {
    const { rounds, leaps } = under(
      {
        ...usual,
        beat: (y, { kept }) => {
          y[2] = 5 + 1e-4 * kept.beats;
        },
      },
      400,
    ).run();
    expect(leaps).toEqual([]);
    expect(rounds().refusal).toBe("z does not return: it moves on by 0.00010 a round");
  });

  test("is that no two rounds are alike, where that took long enough to matter", () => {
    const unlike = (end: number, until: number) =>
      under(
        {
          ...usual,
          timers: (world) => {
            const timer: Timer = new Timer(() => {
              world.journal.log(2, `number ${Math.min(world.kept.beats, until)}`, "");
              timer.start(1);
            });
            timer.start(0.5);
            return [timer];
          },
        },
        end,
      ).run();
    expect(unlike(150, 150).rounds().refusal).toBeNull();
    expect(unlike(250, 250).rounds().refusal).toBe("no round is like the one before");
    // As many that are alike, but fewer than are worth a leap.
    expect(unlike(360, 180).rounds().refusal).toBeNull();
    expect(leapt(unlike(600, 180).leaps)).toBeGreaterThan(390);
  });

  test("is what a try has found, and there are fewer and fewer tries", () => {
    const { rounds, tries, leaps, integrator } = under(
      {
        states: [{ name: "x", role: { kind: "relaxes", timeConstant: 1e9, feedsBack: true }, start: 0.3 }],
        beat: (y) => {
          y[0] = 4 * y[0] * (1 - y[0]);
        },
      },
      2000,
    ).run();
    expect(leaps).toEqual([]);
    expect(rounds().refusal).toBe("what a round adds changes too much from one to the next");
    // 8 rounds after the first, then twice as many each time: up to 1024, all before the last 200.
    expect(tries()).toBeGreaterThan(6);
    expect(tries()).toBeLessThan(10);
    expect(integrator.counters.steps).toBeLessThan(2400);
  });
});
