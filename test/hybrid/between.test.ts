import { describe, expect, test } from "vitest";
import { instantsBetween } from "../../packages/sim/src/hybrid/between.ts";
import { type Curve, pieceOf } from "./curves.ts";

/** Rows in each half of −1 … 1 for a chord that may miss these curves by so much. */
function halves(curves: readonly Curve[], within: readonly number[]): readonly [before: number[], after: number[]] {
  const { interval } = pieceOf({ probes: curves }, [-1, 1]);
  const found = instantsBetween(
    interval,
    within.map((each, probe) => ({ probe, within: each })),
  );
  return [found.filter((t) => t < 0), found.filter((t) => t > 0)];
}

describe("rows within a piece", () => {
  test("are none for straight lines, whatever their slope", () => {
    expect(halves([(t) => 3 + 700 * t], [1e-9])).toEqual([[], []]);
  });

  test("of a parabola stand evenly in both halves, neither at an end nor in the middle", () => {
    // Its second derivative is 2: √(2 / (8 · 0.011)) = 4.77 chords a half.
    const [before, after] = halves([(t) => t * t - 5 * t], [0.011]);
    for (const [k, t] of before.entries()) expect(t).toBeCloseTo([-0.8, -0.6, -0.4, -0.2][k] ?? Number.NaN, 12);
    for (const [k, t] of after.entries()) expect(t).toBeCloseTo([0.2, 0.4, 0.6, 0.8][k] ?? Number.NaN, 12);
    expect([before.length, after.length]).toEqual([4, 4]);
  });

  /** Each with the largest of its second derivative at the middle, half-way and the end, on either side. */
  test.each<[string, Curve, number, number]>([
    ["a cubic", (t) => t ** 3, 6, 6],
    ["a cubic on a parabola", (t) => t ** 3 + t * t, 4, 8],
    ["a quartic", (t) => t ** 4, 12, 12],
    ["one that bends most at one end", (t) => 0.3 * t ** 4 - 0.5 * t ** 3 + 0.5 * t * t, 7.6, 1.6],
    ["one that bends most between", (t) => 0.5 * t * t + 2 * t ** 3 - t ** 4, 23, 4],
    ["one that bends most in the middle", (t) => t * t - 0.05 * t ** 4, 2, 2],
    ["one that is bent the other way", (t) => -(t ** 3) - t * t, 4, 8],
  ])("are as many as its bend asks for: %s", (_, curve, left, right) => {
    const within = 0.011;
    const [before, after] = halves([(t) => 40 - 3 * t + curve(t)], [within]);
    const chords = (bend: number): number => Math.ceil(Math.sqrt(bend / (8 * within)));
    expect([before.length + 1, after.length + 1]).toEqual([chords(left), chords(right)]);
    // No chord misses it by more.
    const edges = [-1, ...before, 0, ...after, 1];
    for (const [k, from] of edges.slice(0, -1).entries())
      for (const share of [0.25, 0.5, 0.75]) {
        const to = edges[k + 1] ?? Number.NaN;
        const chord = curve(from) + share * (curve(to) - curve(from));
        expect(Math.abs(chord - curve(from + share * (to - from)))).toBeLessThan(1.001 * within);
      }
  });

  test("are those of the curve that asks for most, each by its own measure", () => {
    const [bent, more]: [Curve, Curve] = [(t) => t * t, (t) => t ** 3 + t * t];
    expect(halves([bent, more], [0.011, 1e9])).toEqual(halves([bent], [0.011]));
    const both = halves([bent, more], [0.011, 0.05]);
    // √(2 / 0.088) = 4.8 against √(4 / 0.4) = 3.2 before, √(8 / 0.4) = 4.5 after.
    expect(both.map((each) => each.length)).toEqual([4, 4]);
    expect(halves([bent, more], [0.05, 0.011]).map((each) => each.length)).toEqual([6, 9]);
  });

  test("are no more than two hundred to a half, and go with the piece to wherever it lies", () => {
    expect(halves([(t) => t * t], [1e-12]).map((each) => each.length)).toEqual([199, 199]);
    const { interval } = pieceOf({ probes: [(t) => ((t - 12) / 2) ** 2] }, [10, 14]);
    const found = instantsBetween(interval, [{ probe: 0, within: 0.2 }]);
    for (const [k, t] of found.entries()) expect(t).toBeCloseTo([11, 13][k] ?? Number.NaN, 12);
    expect(found).toHaveLength(2);
  });
});
