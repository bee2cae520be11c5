import { expect, test } from "vitest";
import { percentTexts } from "../../packages/sim/src/report/percents.ts";

const sum = (texts: readonly string[]): number => texts.reduce((all, text) => all + Number.parseFloat(text), 0);

test("shares add up to a hundred; of two that lose the same the first is rounded up", () => {
  expect(percentTexts([0.125, 0.875])).toEqual(["13 %", "87 %"]);
  expect(percentTexts([1 / 3, 1 / 3, 1 / 3])).toEqual(["34 %", "33 %", "33 %"]);
  expect(percentTexts([1])).toEqual(["100 %"]);
  expect(percentTexts([])).toEqual([]);
});

test("the smallest has two digits, and no other swallows it", () => {
  expect(percentTexts([0.0044, 0.9956])).toEqual(["0.44 %", "99.56 %"]);
  expect(percentTexts([0.052, 0.948])).toEqual(["5.2 %", "94.8 %"]);
  expect(percentTexts([0.1, 0.2, 0.7])).toEqual(["10 %", "20 %", "70 %"]);
  expect(percentTexts([0.00006, 0.99994])).toEqual(["0.006 %", "99.994 %"]);
});

test("of any parts of a plane the sum is a hundred", () => {
  for (let k = 1; k < 400; k++) {
    const cells = [k, 401 - k, (7 * k) % 97, (k * k) % 53].filter((each) => each > 0);
    const all = cells.reduce((total, each) => total + each, 0);
    expect(sum(percentTexts(cells.map((each) => each / all)))).toBeCloseTo(100, 9);
  }
});
