import { bestDividers, dividerTrip, eSeries, neighbours, seriesValues, THRESHOLDS } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import type { ReferenceDevice } from "../../../packages/sim/src/study/trip/thresholds.ts";
import { seeded } from "./seeded.ts";

describe("preferred numbers of IEC 60063", () => {
  test("E48 and E96 are the powers of ten in equal steps, rounded to three digits", () => {
    for (const [name, count] of [
      ["E48", 48],
      ["E96", 96],
    ] as const) {
      const formula = Array.from({ length: count }, (_, k) => Number((10 ** (k / count)).toFixed(2)));
      expect(eSeries[name]).toEqual(formula);
    }
  });

  test("E24 is that to two digits, but for the eight historic values from 2.7 to 4.7 and 8.2", () => {
    const formula = Array.from({ length: 24 }, (_, k) => Number((10 ** (k / 24)).toFixed(1)));
    expect(eSeries.E24.length).toBe(24);
    const other = eSeries.E24.filter((value, k) => value !== formula[k]);
    expect(other).toEqual([2.7, 3, 3.3, 3.6, 3.9, 4.3, 4.7, 8.2]);
    for (const [k, value] of eSeries.E24.entries()) expect(Math.abs(value - formula[k])).toBeLessThan(0.11);
  });

  test("values over decades are the doubles that a file would give, and stand in order", () => {
    expect(seriesValues("E24", 820, 1300)).toEqual([820, 910, 1000, 1100, 1200, 1300]);
    const all = seriesValues("E96", 1, 1e6);
    expect(all.length).toBe(6 * 96 + 1);
    expect(all).toEqual([...all].sort((a, b) => a - b));
    expect(neighbours("E96", 1234)).toEqual([1210, 1240]);
    expect(neighbours("E24", 9100)).toEqual([9100, 10000]);
    expect(neighbours("E24", 9500)).toEqual([9100, 10000]);
  });
});

test("the best divider is the best of all pairs", () => {
  const device = THRESHOLDS.find(({ name }) => name === "shunt reference 1 %") as ReferenceDevice;
  const random = seeded(3);
  for (let count = 0; count < 30; count++) {
    const series = (["E24", "E48", "E96"] as const)[count % 3];
    const wanted = 13 + 4 * random();
    const bias = 10 ** (-4 + 1.5 * random());
    const aimed = 2.495 / bias;
    const lowers = seriesValues(series, aimed / 1.6, aimed * 1.6);
    const misses = lowers.flatMap((lower) =>
      seriesValues(series, lower, lower * 20).map((upper) =>
        Math.abs(dividerTrip(2.495, { upper, lower }, 2e-6) - wanted),
      ),
    );
    const [best] = bestDividers(device, series, wanted, bias, 1);
    // Those within a millivolt count as alike.
    expect(Math.abs(dividerTrip(2.495, best, 2e-6) - wanted)).toBeLessThanOrEqual(Math.min(...misses) + 1e-3);
    expect(lowers).toContain(best.lower);
  }
});
