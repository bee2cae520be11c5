import { expect, test } from "vitest";
import { normals } from "../../../packages/sim/scripts/instrument.ts";
import { togetherness } from "../../../packages/sim/src/study/fit/misfit.ts";

const gauss = normals(17);
const white = Float64Array.from({ length: 8000 }, () => gauss());

test("white noise counts as it is, also with gaps in it", () => {
  expect(togetherness(white)).toBe(1);
  expect(togetherness(white.map((each, k) => (k % 300 < 9 ? Number.NaN : each)))).toBe(1);
});

test("means over four samples go together as their triangle says: 1 + 2·(3/4 + 2/4 + 1/4) = 4", () => {
  const means = white.map((_, k) => white.slice(k, k + 4).reduce((sum, each) => sum + each / 4, 0));
  expect(togetherness(means)).toBeCloseTo(2, 0.8);
});

test("a first-order filter: (1 + a)/(1 − a)", () => {
  let last = 0;
  const filtered = white.map((each) => {
    last = 0.6 * last + each;
    return last;
  });
  expect(togetherness(filtered)).toBeCloseTo(Math.sqrt(1.6 / 0.4), 0.8);
});
