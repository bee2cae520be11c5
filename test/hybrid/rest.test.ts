import { describe, expect, it } from "vitest";
import { Guard, Timer } from "../../packages/sim/src/hybrid/parts.ts";
import { ExcursionWatch } from "../../packages/sim/src/hybrid/watch.ts";
import { toy } from "../support/toy.ts";

describe("a run that comes to rest", () => {
  it("ends early and continues its totals with the last rates", () => {
    const { loop, watcher, run } = toy({
      problem: () => ({ size: 1, f: (_t, y) => [-50 * (y[0] - 3)], jacobian: () => [[-50]] }),
      start: [0],
      end: 1000,
      flows: (seen) => [() => seen.y[0]],
      samples: [{ event: -1, delay: 900 }],
    });
    const above = new ExcursionWatch(0, 2, 1);
    watcher.excursions.push(above);
    let late = 0;
    watcher.window(0, 500, (sum) => {
      late = sum;
    });
    expect(run()).toBe("at rest");
    expect(loop.time).toBeLessThan(10);
    const rises = Math.log(3) / 50;
    expect(Math.abs(watcher.totals[0] - (3000 - 3 / 50))).toBeLessThan(1e-4);
    expect(Math.abs(late - (1500 - 3 / 50))).toBeLessThan(1e-4);
    expect(Math.abs(above.total - (1000 - rises))).toBeLessThan(1e-6);
    expect(Math.abs(above.longest - (1000 - rises))).toBeLessThan(1e-6);
    expect(watcher.samples[0].probes[0]).toBeCloseTo(3, 8);
    expect(watcher.recorder.times().at(-1)).toBe(1000);
  });

  it("has at its end what its totals have brought: what still drifts goes on as they do", () => {
    const slow = 5e-10;
    const { loop, watcher, run } = toy({
      problem: () => ({ size: 1, f: (_t, y) => [-slow * y[0]], jacobian: () => [[-slow]] }),
      start: [3],
      end: 1000,
      flows: (seen) => [() => slow * seen.y[0]],
    });
    expect(run()).toBe("at rest");
    expect(loop.time).toBeLessThan(900);
    expect(watcher.totals[0]).toBeCloseTo(3 * slow * 1000, 10);
    expect(Math.abs(3 - loop.state[0] - watcher.totals[0])).toBeLessThan(1e-11);
  });

  it("does not end early where what drifts meets a guard on its way, and may rise steeply from there", () => {
    const corner = 1 + 2e-7;
    const { loop, run } = toy({
      problem: (seen) => {
        const rate = () => (seen.y[0] > corner ? 1 : 1e-9);
        return { size: 1, f: () => [rate()], jacobian: () => [[0]] };
      },
      start: [1],
      end: 500,
      guards: (seen) => {
        const past = new Guard(
          () => seen.y[0] - corner,
          () => {
            past.active = false;
          },
        );
        past.active = true;
        return [past];
      },
    });
    run();
    // The corner is reached after 200 s, and 300 s remain at 1 a second.
    expect(loop.state[0]).toBeCloseTo(301, 3);
  });

  it("does not end early while a timer is to come", () => {
    const { loop, run } = toy({
      problem: () => ({ size: 1, f: (_t, y) => [-50 * y[0]], jacobian: () => [[-50]] }),
      start: [1],
      end: 1000,
      timers: (seen) => {
        const timer = new Timer((y) => {
          y[0] = 1;
          seen.journal.log(0, "late", "");
        });
        timer.start(999);
        return [timer];
      },
    });
    run();
    expect(loop.events.map(({ time }) => time)).toEqual([999]);
  });
});
