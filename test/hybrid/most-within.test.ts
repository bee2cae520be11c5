import { describe, expect, test } from "vitest";
import { MostWithin } from "../../packages/sim/src/hybrid/most-within.ts";

/** Plainly: at every stretch's end, the time of all stretches in the window before it. */
function plain(spans: readonly (readonly [number, number])[], window: number): number {
  const within = (to: number) =>
    spans.reduce((sum, [a, b]) => sum + Math.max(0, Math.min(b, to) - Math.max(a, to - window)), 0);
  return Math.max(0, ...spans.map(([, to]) => within(to)));
}

describe("the most time within a window", () => {
  test("pulses add up, those more than a window apart do not; pieces of one stretch are one", () => {
    const most = new MostWithin(1);
    for (const [from, to] of [
      [0, 0.1],
      [0.1, 0.2],
      [0.7, 0.9],
      [2, 2.3],
    ] as const)
      most.add(from, to);
    expect(most.most).toBeCloseTo(0.4, 12);
    most.add(5, 7);
    expect(most.most).toBeCloseTo(1, 12);
    const short = new MostWithin(0.1);
    short.add(0, 0.2);
    expect(short.most).toBeCloseTo(0.1, 12);
  });

  test("rounds that nobody looked at count like the last one, as if each had been looked at", () => {
    const ends = Array.from({ length: 400 }, (_, n) => 3 + (n + 1) * 0.15);
    const round = (end: number) =>
      [
        [end - 0.15, end - 0.13],
        [end - 0.05, end - 0.02],
      ] as const;
    const before = [[1, 1.2], ...round(2.85), ...round(3)] as const;
    const after = [[63.01, 63.5]] as const;
    const most = new MostWithin(1);
    for (const [from, to] of before) most.add(from, to);
    most.repeat(3, 0.15, ends);
    const leapt = most.most;
    for (const [from, to] of after) most.add(from, to);
    const whole = [...before, ...ends.flatMap((end) => round(end))];
    expect(leapt).toBeCloseTo(plain(whole, 1), 12);
    expect(most.most).toBeCloseTo(plain([...whole, ...after], 1), 12);
    expect(most.most).toBeGreaterThan(leapt);
  });
});
