import { expect, test } from "vitest";
import type { Channel } from "../../../packages/sim/src/study/fit/channels.ts";
import { Quadratic } from "../../../packages/sim/src/study/fit/density.ts";
import type { Ground } from "../../../packages/sim/src/study/fit/search.ts";
import { endsOf, straightOf } from "../../../packages/sim/src/study/fit/straight.ts";

/** One value between 1 and 3, one channel: a value, a shift, a zero, a common lag. */
const ground = {
  varied: [{ low: 1, high: 3 }],
  shifts: [-0.5, 0.5],
  channels: [{ interval: 1e-3, every: 2 } as Channel],
} as unknown as Ground;

test("values and the shift have their bounds, a zero none, and a lag is one sample that is looked at at the most", () => {
  expect([0, 1, 2, 3].map((k) => endsOf(ground, k))).toEqual([
    [1, 3],
    [-0.5, 0.5],
    [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY],
    [0, 2e-3],
  ]);
});

test("by straight lines a value and a zero lie where least squares put them, each as sure as its row says", () => {
  const quadratic = new Quadratic(3);
  quadratic.add(Float64Array.of(1, 0, 0), 0.4, 97);
  quadratic.add(Float64Array.of(0, 0, 2), 0.6, 25);
  const { best, errors } = straightOf(ground, quadratic, [0, 2]);
  // 12/(3 − 1)² of the bounds' own width comes to the 97.
  expect(best[0]).toBeCloseTo((97 * 0.4) / 100, 12);
  expect(best[1]).toBeCloseTo(0.3, 12);
  expect(errors[0]).toBeCloseTo(0.1, 12);
  expect(errors[1]).toBeCloseTo(0.1, 12);
});

test("what cannot be told apart is as sure as each is by itself", () => {
  const wide = { ...ground, varied: [{ low: -1e9, high: 1e9 }] } as unknown as Ground;
  const quadratic = new Quadratic(3);
  quadratic.add(Float64Array.of(1, 0, 2), 0.4, 4);
  const { errors, factor } = straightOf(wide, quadratic, [0, 2]);
  expect(errors.map((error) => Number(error.toPrecision(9)))).toEqual([0.5, 0.25]);
  expect(factor.map((row) => row.map((each) => Number(each.toPrecision(9))))).toEqual([
    [0.5, 0],
    [0, 0.25],
  ]);
});
