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

  test("hears of every stretch of an excursion, at the run's own time", () => {
    const excursion: { onStay?: (from: number, to: number) => void } = {};
    const most = new MostWithin(1);
    let base = 100;
    most.follow(excursion as unknown as Parameters<MostWithin["follow"]>[0], () => base);
    excursion.onStay?.(0.2, 0.5);
    base = 100.5;
    excursion.onStay?.(0.1, 0.4);
    expect(most.most).toBeCloseTo(0.6, 12);
    base = 200;
    excursion.onStay?.(0, 0.9);
    expect(most.most).toBeCloseTo(0.9, 12);
  });

  test("rounds beyond a window's length from both ends cost nothing: a million of them", () => {
    const most = new MostWithin(1);
    most.add(2.9, 2.95);
    let looked = 0;
    const ends = Array.from({ length: 1e6 }, (_, n) => 3 + (n + 1) * 0.15);
    const add = most.add.bind(most);
    most.add = (from, to) => {
      looked++;
      add(from, to);
    };
    most.repeat(3, 0.15, ends);
    // Seven stretches of 50 ms in a second, one of them in part.
    expect(most.most).toBeCloseTo(7 * 0.05, 9);
    expect(looked).toBeLessThan(20);
    expect(looked).toBeGreaterThanOrEqual(14);
  });

  test("stretches that follow each other without a break are one, a break as short as can be makes two", () => {
    const [joined, parted] = [new MostWithin(1), new MostWithin(1)];
    for (const [most, gap] of [
      [joined, 0.5e-9],
      [parted, 0.2],
    ] as const) {
      most.add(10, 10.3);
      most.add(10.3 + gap, 10.6);
      most.add(11.1, 11.2);
    }
    // In the window that ends at 11.2 there is left what is behind 10.2.
    expect(joined.most).toBeCloseTo(0.6, 8);
    expect(parted.most).toBeCloseTo(0.4, 8);
  });
});
