import { describe, expect, it } from "vitest";
import { toy, watched } from "../support/toy.ts";

const G = 10;
/** A ball falls from 5 m (first impact after 1 s) and keeps half of its speed at each impact. */
const ball = (end: number, relative = 1e-9, maxChanges = 1e5) =>
  toy({
    problem: () => ({
      size: 2,
      f: (_t, y) => [y[1], -G],
      jacobian: () => [
        [0, 1],
        [0, 0],
      ],
    }),
    start: [5, 0],
    end,
    relative,
    maxChanges,
    guards: (seen) => [
      watched(
        () => -seen.y[0],
        (y) => {
          y[0] = 0;
          y[1] *= -0.5;
          seen.journal.log(0, "bounce", "the floor");
        },
      ),
    ],
  });
/** Impacts at 1, 2, 2.5, 2.75 …: flights of 2·v/g with v halved each time. */
const impacts = (n: number) => Array.from({ length: n }, (_, k) => 3 - 2 * 0.5 ** k);

describe("a bouncing ball", () => {
  it("bounces at the exact times, as often as it does, and never twice", () => {
    const { loop, run } = ball(2.995);
    expect(run()).toBe("finished");
    const times = loop.events.map(({ time }) => time);
    const expected = impacts(9).filter((t) => t < 2.995);
    expect(times).toHaveLength(expected.length);
    expected.forEach((t, k) => {
      expect(Math.abs(times[k] - t)).toBeLessThan(1e-8);
    });
    expect(loop.quietChanges).toBe(0);
    expect(loop.changes).toBe(expected.length);
  });

  it("counts the time since the preceding event exactly", () => {
    const { loop, run } = ball(2.9);
    run();
    let sum = 0;
    for (const event of loop.events) {
      sum += event.sincePrevious;
      expect(Math.abs(sum - event.time)).toBeLessThan(1e-12);
    }
  });

  it("keeps the state before and after each impact at one instant", () => {
    const { loop, run, watcher } = ball(2.2);
    run();
    const [times, speed] = [watcher.recorder.times(), watcher.recorder.column(1)];
    for (const { time } of loop.events) {
      const k = times.indexOf(time);
      expect(times[k + 1]).toBe(time);
      expect(speed[k]).toBeLessThan(0);
      expect(speed[k + 1]).toBeCloseTo(-0.5 * speed[k], 12);
    }
    for (let k = 1; k < times.length; k++) expect(times[k]).toBeGreaterThanOrEqual(times[k - 1]);
  });

  it("gives bit-identical results in one go and in any portions", () => {
    const whole = ball(2.9);
    whole.run();
    for (const budget of [1, 2, 7]) {
      const pieces = ball(2.9);
      pieces.run(budget);
      expect(pieces.loop.events).toEqual(whole.loop.events);
      expect(pieces.loop.state).toEqual(whole.loop.state);
      expect(pieces.watcher.recorder.times()).toEqual(whole.watcher.recorder.times());
      expect(pieces.watcher.recorder.column(0)).toEqual(whole.watcher.recorder.column(0));
      expect(pieces.work).toEqual(whole.work);
    }
  });

  it("fails with an outcome where impacts pile up without end", () => {
    const { loop, run } = ball(3.5, 1e-6, 60);
    expect(run()).toBe("failed");
    expect(loop.failure?.reason).toMatch(/too many changes of mode|do not settle|fell to nothing/);
    expect(Math.abs(loop.time - 3)).toBeLessThan(1e-5);
  });
});
