import { expect, test } from "vitest";
import { LineCurve } from "../../../packages/sim/src/study/fit/curve.ts";

const step = new LineCurve(Float64Array.of(0, 1, 1, 3), Float64Array.of(2, 4, 8, 12));

test("a curve of straight lines stays what it was before its beginning and behind its end", () => {
  for (const [t, value] of [
    [-1, 2],
    [0, 2],
    [0.5, 3],
    [2, 10],
    [3, 12],
    [5, 12],
  ] as const) {
    expect(step.at(t)).toBe(value);
    expect(step.before(t)).toBe(value);
  }
});

test("at a step it is what it is after it, or is asked for what it was before", () => {
  expect(step.at(1)).toBe(8);
  expect(step.before(1)).toBe(4);
});

test("its mean is that of its lines: (¾ s at 3.25 V and ¼ s at 8.25 V), and beyond its ends that of what it stays", () => {
  expect(step.mean(0.75, 1)).toBeCloseTo(0.75 * 3.25 + 0.25 * 8.25, 12);
  expect(step.mean(-2, 1)).toBeCloseTo(2, 12);
  expect(step.mean(9, 1)).toBeCloseTo(12, 12);
  expect(step.mean(1, 0)).toBe(8);
});
