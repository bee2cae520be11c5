import { describe, expect, it } from "vitest";
import { Timer } from "../../packages/sim/src/hybrid/parts.ts";
import { clock, once, type Seen, still, swing, toy, watched } from "../support/toy.ts";

const note = (seen: Seen, code: string) => () => seen.journal.log(0, code, "");

describe("a thermostat", () => {
  // y' = −y + u, u 2 while heating, 0 else; between 0.9 and 1.1.
  it("switches at the closed form's times and exactly as often", () => {
    let heating = false;
    const { loop, run } = toy({
      problem: () => ({ size: 1, f: (_t, y) => [-y[0] + (heating ? 2 : 0)], jacobian: () => [[-1]] }),
      start: [1],
      end: 20,
      guards: (seen) => {
        const turn = (to: boolean) => () => {
          heating = to;
          seen.journal.log(0, to ? "on" : "off", "");
        };
        return [
          watched(() => (heating ? -1 : 0.9 - seen.y[0]), turn(true)),
          watched(() => (heating ? seen.y[0] - 1.1 : -1), turn(false)),
        ];
      },
    });
    run();
    const half = Math.log(1.1 / 0.9);
    const expected: number[] = [];
    for (let t = Math.log(1 / 0.9); t < 20; t += half) expected.push(t);
    expect(loop.events).toHaveLength(expected.length);
    loop.events.forEach(({ time, code }, k) => {
      expect(code).toBe(k % 2 === 0 ? "on" : "off");
      expect(Math.abs(time - expected[k])).toBeLessThan(2e-8 * (k + 1));
    });
  });
});

describe("guards", () => {
  it("one that is zero at the left end does not fire again", () => {
    let fired = 0;
    const { run } = toy({
      problem: () => ({ size: 1, f: () => [fired > 0 ? -1 : 1], jacobian: () => [[0]] }),
      start: [0],
      end: 3,
      guards: (seen) => [
        watched(
          () => seen.y[0] - 1,
          (y) => {
            y[0] = 1;
            fired++;
          },
        ),
      ],
    });
    expect(run()).toBe("finished");
    expect(fired).toBe(1);
  });

  it("one already above zero on entering a mode fires at once", () => {
    let entered = false;
    const { told, run } = toy({
      problem: clock,
      start: [5],
      end: 3,
      guards: (seen) => [
        once(
          () => seen.y[0] - 6,
          () => {
            entered = true;
            seen.journal.log(0, "enters", "");
          },
        ),
        once(() => (entered ? seen.y[0] - 2 : -1), note(seen, "was past it")),
      ],
    });
    run();
    expect(told()).toEqual(["enters@1", "was past it@1"]);
  });

  it("one above zero at the start fires at time 0", () => {
    const { told, run } = toy({
      problem: clock,
      start: [5],
      end: 1,
      guards: (seen) => [once(() => seen.y[0] - 2, note(seen, "at once"))],
    });
    run();
    expect(told()).toEqual(["at once@0"]);
  });

  it("two of opposite sign with one root do not chatter", () => {
    let above = false;
    const { loop, run } = toy({
      problem: swing(1),
      start: [-1, 0],
      end: 10 * 2 * Math.PI,
      guards: (seen) => [
        watched(
          () => (above ? -1 : seen.y[0]),
          () => {
            above = true;
          },
        ),
        watched(
          () => (above ? -seen.y[0] : -1),
          () => {
            above = false;
          },
        ),
      ],
    });
    run();
    expect(loop.changes).toBe(20);
    expect(loop.quietChanges).toBe(20);
  });

  it("of two that cross in one step the earlier acts first, whatever their order", () => {
    const { run, told } = toy({
      problem: clock,
      start: [0],
      end: 1,
      guards: (seen) => [
        once(() => seen.y[0] - 0.501, note(seen, "late")),
        once(() => seen.y[0] - 0.5, note(seen, "early")),
      ],
    });
    run();
    expect(told()).toEqual(["early@0.5", "late@0.501"]);
  });

  it("at one instant timers act before guards, both in their order, each once", () => {
    const { loop, run } = toy({
      problem: clock,
      start: [0],
      end: 1,
      timers: (seen) =>
        ["timer 1", "timer 2"].map((name) => {
          const timer = new Timer(note(seen, name));
          timer.start(0.5);
          return timer;
        }),
      guards: (seen) => [
        once(() => seen.y[0] - 0.5 + 1e-12, note(seen, "guard 1")),
        once(() => seen.y[0] - 0.5 + 1e-12, note(seen, "guard 2")),
      ],
    });
    run();
    expect(loop.events.map(({ code }) => code)).toHaveLength(4);
    const order = loop.events.map(({ code }) => code);
    expect(order.indexOf("timer 1")).toBeLessThan(order.indexOf("timer 2"));
    expect(order.indexOf("guard 1")).toBeLessThan(order.indexOf("guard 2"));
  });

  it("guards that a timer's action lifts above zero act in its instant, after all timers", () => {
    let lifted = false;
    const { loop, run } = toy({
      problem: still,
      start: [1],
      end: 1,
      timers: (seen) => {
        const lift = new Timer(() => {
          lifted = true;
          seen.journal.log(0, "timer 1", "");
        });
        const second = new Timer(note(seen, "timer 2"));
        lift.start(0.5);
        second.start(0.5);
        return [lift, second];
      },
      guards: (seen) => [once(() => (lifted ? 1 : -1), note(seen, "guard"))],
    });
    run();
    expect(loop.events.map(({ code, time }) => [code, time])).toEqual([
      ["timer 1", 0.5],
      ["timer 2", 0.5],
      ["guard", 0.5],
    ]);
  });

  // Steps of a third of a radian hid one hump in seventy before guards were looked at between looks.
  it.each([1e-9, 1e-7, 1e-5])("a hump between two looks of one step is not missed, tolerance %f", (relative) => {
    for (let k = 0; k < 30; k++) {
      const phase = -0.1 * k;
      let armed = true;
      let fired = 0;
      const { run } = toy({
        problem: swing(1),
        start: [Math.sin(phase), Math.cos(phase)],
        end: 50,
        relative,
        guards: (seen) => [
          watched(
            () => (armed ? seen.y[0] - 0.999 : -1),
            () => {
              armed = false;
              fired++;
            },
          ),
          watched(
            () => (armed ? -1 : -seen.y[0]),
            () => {
              armed = true;
            },
          ),
        ],
      });
      run();
      expect(fired, `phase ${phase}`).toBe(Math.floor((50 + phase - Math.asin(0.999)) / (2 * Math.PI)) + 1);
    }
  });

  it("modes that never settle end in a failure that says so", () => {
    const { loop, run } = toy({
      problem: still,
      start: [1],
      end: 1,
      guards: (seen) => [
        watched(
          () => seen.y[0],
          () => {},
        ),
      ],
    });
    expect(run()).toBe("failed");
    expect(loop.failure?.reason).toBe("the modes do not settle");
    expect(loop.time).toBe(0);
  });
});
