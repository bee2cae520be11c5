import { describe, expect, it } from "vitest";
import { Timer } from "../../packages/sim/src/hybrid/parts.ts";
import { ExcursionWatch, PeakWatch } from "../../packages/sim/src/hybrid/watch.ts";
import { clock, once, still, swing, toy } from "../support/toy.ts";

/** 3·sin(omega t) from a swing, watched. */
const wave = (end: number, omega = 1, relative = 1e-9) =>
  toy({
    problem: swing(omega),
    start: [0, 3 * omega],
    end,
    relative,
    flows: (seen) => [() => seen.y[0] ** 2, () => 1],
  });

describe("peaks", () => {
  it("are the true extrema and their instants, inside steps too", () => {
    const { watcher, run, work } = wave(6);
    const [high, low, size] = [new PeakWatch(0, 1, true), new PeakWatch(0, -1), new PeakWatch(0, 0)];
    watcher.peaks.push(high, low, size);
    run();
    expect(high.value).toBeCloseTo(3, 8);
    expect(high.time).toBeCloseTo(Math.PI / 2, 4);
    expect(low.value).toBeCloseTo(3, 8);
    expect(low.time).toBeCloseTo(1.5 * Math.PI, 4);
    expect(size.value).toBeCloseTo(3, 8);
    expect(work.steps).toBeLessThan(120);
    // A recorded peak stands in the trace.
    expect(Math.max(...watcher.recorder.column(0))).toBe(high.value);
  });

  it("of a loose integration are those of the interpolant, not of the step ends", () => {
    const { watcher, run } = wave(2.2, 1, 1e-4);
    const high = new PeakWatch(0, 1);
    watcher.peaks.push(high);
    run();
    expect(Math.abs(high.value - 3)).toBeLessThan(2e-3);
  });

  it("count only for the time they are given", () => {
    const { watcher, run } = wave(6);
    const early = new PeakWatch(0, 1);
    watcher.peaks.push(early);
    early.remaining = 1;
    run();
    expect(early.value).toBeCloseTo(3 * Math.sin(1), 7);
  });

  it("see both sides of a jump", () => {
    const { watcher, run } = toy({
      problem: still,
      start: [1],
      end: 2,
      timers: (seen) => {
        const up = new Timer((y) => {
          y[0] = 7;
          down.start(0);
          seen.journal.log(0, "up", "");
        });
        const down = new Timer((y) => {
          y[0] = 2;
        });
        up.start(1);
        return [up, down];
      },
    });
    const [high, low] = [new PeakWatch(0, 1), new PeakWatch(0, -1)];
    watcher.peaks.push(high, low);
    run();
    expect(-low.value).toBe(1);
    // Seven lasted no time at all: what counts is what the instant ended with.
    expect(high.value).toBe(2);
  });
});

describe("excursions", () => {
  it("above, below and beyond a level: total, longest and area in closed form", () => {
    const { watcher, run } = wave(7.5 * Math.PI);
    const above = new ExcursionWatch(0, 1.5, 1);
    const below = new ExcursionWatch(0, -1.5, -1);
    const beyond = new ExcursionWatch(0, 1.5, 0);
    watcher.excursions.push(above, below, beyond);
    run();
    const one = Math.PI - 2 * Math.asin(0.5);
    const area = 6 * Math.cos(Math.asin(0.5)) - 1.5 * one;
    // From 0 to 7.5π there are four crests and three troughs and half of one.
    expect(Math.abs(above.total - 4 * one)).toBeLessThan(1e-7);
    expect(Math.abs(above.longest - one)).toBeLessThan(1e-7);
    expect(Math.abs(above.area - 4 * area)).toBeLessThan(1e-6);
    expect(Math.abs(below.total - 3.5 * one)).toBeLessThan(1e-7);
    expect(Math.abs(beyond.total - 7.5 * one)).toBeLessThan(2e-7);
    expect(Math.abs(beyond.area - 7.5 * area)).toBeLessThan(1e-6);
  });

  it("see a hump that lies wholly inside a step", () => {
    const { watcher, run } = wave(40, 1, 1e-6);
    const tip = new ExcursionWatch(0, 2.997, 1);
    let left = 0;
    tip.onLeave = () => left++;
    watcher.excursions.push(tip);
    run();
    const one = Math.PI - 2 * Math.asin(0.999);
    expect(left).toBe(7);
    expect(Math.abs(tip.total - 7 * one)).toBeLessThan(0.02 * one * 7);
    expect(Math.abs(tip.longest - one)).toBeLessThan(0.03 * one);
  });

  it("run on over changes of mode and are broken by jumps", () => {
    const { watcher, run } = toy({
      problem: clock,
      start: [0],
      end: 10,
      guards: (seen) => [
        once(
          () => seen.y[0] - 4,
          () => seen.journal.log(0, "change", ""),
        ),
        once(
          () => seen.y[0] - 5,
          () => {},
        ),
      ],
      timers: () => {
        const dip = new Timer((y) => {
          y[0] = 1;
        });
        dip.start(7);
        return [dip];
      },
    });
    const above = new ExcursionWatch(0, 2, 1);
    watcher.excursions.push(above);
    run();
    // 2 … 7 unbroken although the mode changes twice, then 2 … 4 again after the jump to 1.
    expect(above.total).toBeCloseTo(7, 8);
    expect(above.longest).toBeCloseTo(5, 8);
    expect(above.area).toBeCloseTo(12.5 + 2, 8);
  });

  it("enabled late count from then", () => {
    const { watcher, run } = toy({
      problem: still,
      start: [1],
      end: 3,
      timers: (seen) => {
        const timer = new Timer(() => {
          low.enabled = true;
          seen.journal.log(0, "fault", "");
        });
        timer.start(1);
        return [timer];
      },
    });
    const low = new ExcursionWatch(0, 2, -1);
    low.enabled = false;
    watcher.excursions.push(low);
    run();
    expect(low.total).toBeCloseTo(2, 12);
    expect(low.area).toBeCloseTo(2, 12);
  });
});

describe("integrals, windows and samples", () => {
  it("integrate a flow to the accuracy of the run", () => {
    const { watcher, run } = wave(5);
    run();
    expect(Math.abs(watcher.totals[0] - 9 * (2.5 - Math.sin(10) / 4))).toBeLessThan(2e-7);
    expect(watcher.totals[1]).toBeCloseTo(5, 12);
  });

  it("a window ends inside a step; one that outlasts the run gets what there is", () => {
    const found: number[] = [];
    const { watcher, run } = wave(5);
    watcher.window(0, 1.2345, (sum) => found.push(sum));
    watcher.window(1, 99, (sum) => found.push(sum));
    run();
    expect(Math.abs(found[0] - 9 * (1.2345 / 2 - Math.sin(2.469) / 4))).toBeLessThan(1e-7);
    expect(found[1]).toBeCloseTo(5, 12);
  });

  it("samples are taken at their times, at an event before its jump, and survive a second event of the same instant", () => {
    const { watcher, run } = toy({
      problem: clock,
      start: [0],
      end: 5,
      samples: [
        { event: -1, delay: 0 },
        { event: -1, delay: 1.25 },
        { event: -1, delay: 2 },
        { event: 0, delay: 0.5 },
        { event: 1, delay: 0 },
        { event: 1, delay: 0.5 },
        { event: 1, delay: 99 },
      ],
      timers: (seen) => {
        const first = new Timer(() => seen.journal.log(0, "first", ""));
        const second = new Timer((y) => {
          y[0] = 10;
          seen.journal.log(0, "second", "");
        });
        first.start(2);
        second.start(2);
        return [first, second];
      },
    });
    run();
    const values = watcher.samples.map(({ event, delay, probes, time }) => [event, delay, probes[0], time]);
    const expected = [
      [-1, 0, 0, 0],
      [-1, 1.25, 1.25, 1.25],
      [-1, 2, 2, 2],
      [1, 0, 10, 2],
      [0, 0.5, 10.5, 2.5],
      [1, 0.5, 10.5, 2.5],
    ];
    expect(values).toHaveLength(expected.length);
    for (const row of expected) {
      const found = values.find(([event, delay]) => event === row[0] && delay === row[1]);
      row.forEach((value, k) => {
        expect(Math.abs((found?.[k] ?? Number.NaN) - value)).toBeLessThan(1e-9);
      });
    }
  });
});
