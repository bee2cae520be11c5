import { describe, expect, test } from "vitest";
import { type Curve, pieceOf } from "./curves.ts";

describe("a piece of a step", () => {
  test("is looked at five times, its flows three times: not at the ends, where they may jump", () => {
    const { interval, asked } = pieceOf({ probes: [(t) => t], flows: [(t) => 2 * t] }, [3, 5]);
    expect(asked).toEqual({ observed: 5, probes: 5, flows: 3 });
    // Gauss and Legendre's places: ±√0.6 about the middle (Abramowitz & Stegun, table 25.4).
    const places = [-1, -Math.sqrt(0.6), 0, Math.sqrt(0.6), 1];
    expect(interval.looks.map(([t]) => t)).toEqual(Array.from(interval.times));
    for (const [k, t] of Array.from(interval.times).entries()) expect(t).toBeCloseTo(4 + (places[k] ?? Number.NaN), 14);
    for (const [k, [flow = 0]] of interval.flowLooks.entries())
      expect(flow).toBe(2 * (interval.times[k + 1] ?? Number.NaN));
  });

  test.each([0, 1, 2, 3, 4, 5])("integrates powers up to the fifth exactly: t^%i", (power) => {
    const curve: Curve = (t) => t ** power;
    const { interval } = pieceOf({ flows: [() => 1, curve] }, [0.5, 2]);
    const upTo = (t: number): number => (t ** (power + 1) - 0.5 ** (power + 1)) / (power + 1);
    expect(interval.integrals[1]).toBeCloseTo(upTo(2), 12);
    expect(interval.integrals[0]).toBeCloseTo(1.5, 14);
    expect(interval.flowUntil(1.25, 1)).toBeCloseTo(upTo(1.25), 12);
  });

  test("knows what each probe lies between, whichever look shows the least and the most", () => {
    // All orders of five values, and some of them alike.
    const orders = permutations([3, -1, 4, 1, -5]).concat(permutations([2, 2, 0, 1, 0]));
    const at: Curve[] = orders.map((values) => (t) => values[Math.round((t + 1.2) * 2)] ?? Number.NaN);
    const { interval } = pieceOf({ probes: at }, [-1, 1]);
    for (const [k, curve] of at.entries()) {
      const seen = Array.from(interval.times, curve);
      expect(seen.every(Number.isFinite)).toBe(true);
      expect([interval.low[k], interval.high[k]]).toEqual([Math.min(...seen), Math.max(...seen)]);
    }
  });

  test("is looked through between two times inside, and as a whole without looking once more", () => {
    const { interval, asked } = pieceOf({ probes: [(t) => t ** 5] }, [1, 2]);
    const integral = (from: number, to: number): number => {
      let sum = 0;
      interval.lookThrough(from, to, (probes, weight) => {
        sum += weight * (probes[0] ?? Number.NaN);
      });
      return sum;
    };
    expect(integral(1, 2)).toBeCloseTo(63 / 6, 12);
    expect(asked.observed).toBe(5);
    for (const [from, to] of [
      [1, 1.5],
      [1.5, 2],
      [1.2, 1.3],
    ] as const)
      expect(integral(from, to)).toBeCloseTo((to ** 6 - from ** 6) / 6, 12);
    expect(asked.observed).toBe(14);
    expect(interval.probeAt(1.5, 0)).toBe(1.5 ** 5);
  });

  test("begins with what the piece before it ended with", () => {
    const { interval } = pieceOf({ probes: [(t) => t, (t) => -t] }, [0, 1], true);
    interval.setStart([7, 8]);
    expect(interval.looks[0]).toEqual([7, 8]);
  });
});

function permutations(values: readonly number[]): number[][] {
  if (values.length === 0) return [[]];
  return values.flatMap((first, k) => permutations(values.toSpliced(k, 1)).map((rest) => [first, ...rest]));
}
