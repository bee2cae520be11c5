import { describe, expect, it } from "vitest";
import { Hold, Timer } from "../../packages/sim/src/hybrid/parts.ts";
import { clock, still, swing, toy } from "../support/toy.ts";

/** sin t watched by a hold: above `level` without a break for `delay`. */
function held(delay: number, level: number, end: number, again: boolean) {
  const holds: Hold[] = [];
  const made = toy({
    problem: swing(1),
    start: [0, 1],
    end,
    guards: (seen) => {
      const hold = new Hold(
        () => seen.y[0] - level,
        delay,
        () => {
          seen.journal.log(0, "held", "");
          if (again) hold.enable();
        },
      );
      hold.enable();
      holds.push(hold);
      return hold.guards;
    },
    timers: () => holds.map(({ timer }) => timer),
  });
  return { ...made, hold: holds[0] };
}

describe("a condition that must hold without a break", () => {
  it("acts the delay after it was met", () => {
    const { run, told } = held(1, 0.5, 6, false);
    run();
    expect(told()).toEqual([`held@${Number((Math.PI / 6 + 1).toPrecision(9))}`]);
  });

  it("never acts where it breaks before the delay has passed", () => {
    // sin t stays above 0.5 for 2π/3 ≈ 2.0944.
    const { run, loop, hold } = held(2.0945, 0.5, 40, false);
    run();
    expect(loop.events).toEqual([]);
    expect(hold.enabled).toBe(true);
  });

  it("acts where it holds a hair longer", () => {
    const { run, loop } = held(2.0943, 0.5, 6, false);
    run();
    expect(loop.events).toHaveLength(1);
  });

  it("starts anew after a break and counts each time", () => {
    const { run, loop } = held(2, 0.5, 20, true);
    run();
    const expected = [0, 1, 2].map((k) => Math.PI / 6 + 2 + 2 * Math.PI * k);
    expect(loop.events).toHaveLength(3);
    loop.events.forEach(({ time }, k) => {
      expect(Math.abs(time - expected[k])).toBeLessThan(1e-7);
    });
  });

  it("enabled while already met counts from then", () => {
    // Level −2 is always met: every 0.7 from the start.
    const { run, loop } = held(0.7, -2, 3, true);
    run();
    expect(loop.events.map(({ time }) => Number(time.toPrecision(12)))).toEqual([0.7, 1.4, 2.1, 2.8]);
  });

  it("with no delay acts in the instant in which it is met", () => {
    const { run, told } = held(0, 0.5, 3, false);
    run();
    expect(told()).toEqual([`held@${Number((Math.PI / 6).toPrecision(9))}`]);
  });

  it("disabled it forgets", () => {
    const { run, loop, hold } = held(1, 0.5, 6, false);
    hold.disable();
    run();
    expect(loop.events).toEqual([]);
    expect(hold.enabled).toBe(false);
  });
});

describe("timers", () => {
  it("fire at their times to the last bit but rounding, however many there are", () => {
    const times = Array.from({ length: 50 }, (_, k) => 0.1 * (k + 1));
    const { loop, run } = toy({
      problem: clock,
      start: [0],
      end: 5.05,
      timers: (seen) =>
        times.map((time, k) => {
          const timer = new Timer(() => seen.journal.log(k, "tick", ""));
          timer.start(time);
          return timer;
        }),
    });
    run();
    expect(loop.events.map(({ source }) => source)).toEqual(times.map((_, k) => k));
    loop.events.forEach(({ time }, k) => {
      expect(Math.abs(time - times[k])).toBeLessThan(1e-14);
    });
    expect(loop.state[0]).toBeCloseTo(5.05, 12);
  });

  it("meant for one instant, started at different times, act in one instant", () => {
    const { loop, run } = toy({
      problem: still,
      start: [1],
      end: 10,
      timers: (seen) => {
        const a = new Timer(() => seen.journal.log(0, "a", ""));
        const b = new Timer(() => seen.journal.log(0, "b", ""));
        const starter = new Timer(() => b.start(0.7));
        const other = new Timer(() => seen.journal.log(0, "between", ""));
        a.start(0.1 + 0.2 + 0.7);
        starter.start(0.3);
        other.start(0.77);
        return [a, b, starter, other];
      },
    });
    run();
    expect(loop.events.map(({ code }) => code)).toEqual(["between", "a", "b"]);
    expect(loop.events[1].time).toBe(loop.events[2].time);
    expect(loop.events[2].sincePrevious).toBe(0);
  });

  it("at the very end of the run still fire", () => {
    const { loop, run } = toy({
      problem: clock,
      start: [0],
      end: 1,
      timers: (seen) => {
        const timer = new Timer(() => seen.journal.log(0, "last", ""));
        timer.start(1);
        return [timer];
      },
    });
    expect(run()).toBe("finished");
    expect(loop.events.map(({ time }) => time)).toEqual([1]);
  });

  it("due sooner than any step can be made of are due now: the run goes on", () => {
    const { loop, run } = toy({
      problem: clock,
      start: [0],
      end: 1,
      timers: (seen) =>
        [3.5e-323, 1e-19, 1e-18].map((delay) => {
          const timer = new Timer(() => seen.journal.log(0, `${delay}`, ""));
          timer.start(delay);
          return timer;
        }),
    });
    expect(run()).toBe("finished");
    expect(loop.events.map(({ code }) => code)).toEqual(["3.5e-323", "1e-19", "1e-18"]);
    expect(loop.time).toBe(1);
  });

  it("keep nanoseconds exact after hours: time is local to each segment", () => {
    const hours = 7.2 * 3600;
    const { loop, run } = toy({
      problem: clock,
      start: [0],
      end: hours + 1,
      timers: (seen) => {
        const short = new Timer(() => seen.journal.log(0, "3 ns later", ""));
        const long = new Timer(() => {
          seen.journal.log(0, "hours", "");
          short.start(3e-9);
        });
        long.start(hours);
        return [long, short];
      },
    });
    run();
    expect(loop.events.map(({ code }) => code)).toEqual(["hours", "3 ns later"]);
    expect(loop.events[1].sincePrevious).toBe(3e-9);
  });
});
