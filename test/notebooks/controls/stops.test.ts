import { describe, expect, test } from "vitest";
import { stopsOf } from "../../../packages/notebooks/src/controls/stops.ts";

const all = (options: Parameters<typeof stopsOf>[0]) => {
  const stops = stopsOf(options);
  return Array.from({ length: stops.count }, (_, i) => stops.valueAt(i));
};

describe("linear stops", () => {
  test("are round numbers, without what binary fractions leave", () => {
    expect(all({ min: 12, max: 12.7, step: 0.1 })).toEqual([12, 12.1, 12.2, 12.3, 12.4, 12.5, 12.6, 12.7]);
  });

  test("end at the end also where the step does not fit", () => {
    expect(all({ min: 0, max: 1, step: 0.3 })).toEqual([0, 0.3, 0.6, 0.9, 1]);
  });

  test("keep a quarter's digits", () => {
    expect(all({ min: 0, max: 1, step: 0.25 })).toEqual([0, 0.25, 0.5, 0.75, 1]);
  });

  test("without a step are about a hundred, a round one apart", () => {
    const stops = stopsOf({ min: 0, max: 30 });
    expect(stops.count).toBe(61);
    expect(stops.valueAt(1)).toBe(0.5);
  });
});

describe("logarithmic stops", () => {
  test("are the preferred numbers between the ends", () => {
    expect(all({ min: 1, max: 10, log: true })).toEqual([
      1, 1.1, 1.2, 1.3, 1.5, 1.6, 1.8, 2, 2.2, 2.4, 2.7, 3, 3.3, 3.6, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8, 7.5, 8.2, 9.1,
      10,
    ]);
  });

  test("rise all the way over nine decades, and no step is wide", () => {
    const values = all({ min: 1e-6, max: 3600, log: true });
    const ratios = values.slice(1).map((value, i) => value / values[i]);
    expect(Math.min(...ratios)).toBeGreaterThan(1);
    expect(Math.max(...ratios)).toBeLessThan(1.26);
    expect([values[0], values.at(-1)]).toEqual([1e-6, 3600]);
  });

  test("place a value by its ratio", () => {
    const stops = stopsOf({ min: 1, max: 100, steps: [1, 100] });
    expect(stops.placeOf(50.5)).toBeCloseTo(0.5);
    const { placeOf } = stopsOf({ min: 1, max: 10, log: true });
    expect(placeOf(Math.sqrt(1.1 * 1.2))).toBeCloseTo(1.5);
  });
});

test("every stop is found where it stands", () => {
  for (const options of [
    { min: 12, max: 18, step: 0.1 },
    { min: 1e-4, max: 0.1, log: true },
    { min: 5, max: 40, steps: [5, 7.5, 20, 40] },
  ]) {
    const stops = stopsOf(options);
    for (let i = 0; i < stops.count; i++) expect(stops.placeOf(stops.valueAt(i))).toBeCloseTo(i, 6);
  }
});

test.each([
  [{ min: 5, max: 5 }, "received 5 to 5"],
  [{ min: 0, max: Number.NaN }, "received 0 to NaN"],
  [{ min: 0, max: 1, log: true }, "begins above 0"],
  [{ min: 0, max: 1, step: 0 }, "received 0"],
  [{ min: 0, max: 1, steps: [3, 4] }, "two steps"],
])("%o is refused", (options, words) => {
  expect(() => stopsOf(options)).toThrow(words);
});
