import { expect, test } from "vitest";
import { normals } from "../../packages/sim/scripts/instrument.ts";
import { judgedValues } from "./records.ts";

/** Told of rounds that are up for `on` of 0.317 s, seen every `interval`, over 100 records that begin elsewhere in a round. */
function rounds(on: number, interval: number) {
  const period = 0.317;
  let [told, excluded, near, missed] = [0, 0, 0, 0];
  for (let seed = 1; seed <= 100; seed++) {
    const gauss = normals(seed);
    const begin = (seed * 0.618 * period) % period;
    const values = Float64Array.from({ length: Math.round(15 / interval) }, (_, k) => {
      const t = (k * interval + begin) % period;
      return (t < on ? 13.8 : 0.05) + 0.02 * gauss();
    });
    const { trips } = judgedValues(values, interval, 1e-3, 100);
    if (trips === null || trips.period === null) continue;
    told++;
    const { value, plusMinus } = trips.period;
    if (trips.missed) missed++;
    if (period > value + plusMinus || (!trips.missed && period < value - plusMinus)) excluded++;
    if (Math.abs(value - period) <= plusMinus && plusMinus < 0.1 * period) near++;
  }
  return { told, excluded, near, missed };
}

test.each([0.023, 0.03, 0.0413, 0.0607])(
  "rounds shorter than the %f s between samples may be missed, and the period told never excludes the true one",
  (interval) => {
    const { told, excluded, near, missed } = rounds(0.02, interval);
    expect(told).toBe(100);
    expect(excluded).toBeLessThanOrEqual(3);
    expect(missed).toBe(100);
    expect(near).toBeGreaterThanOrEqual(90);
  },
);

test("where they may lie more than a quarter of a round off, twice the period may be told, as the most it is", () => {
  expect(rounds(0.02, 0.09)).toMatchObject({ excluded: 0, missed: 100 });
});

test("rounds that no sample can miss are not said to be missed", () => {
  for (const [on, interval] of [
    [0.02, 0.002],
    [0.1, 0.0413],
  ] as const) {
    const { told, excluded, missed } = rounds(on, interval);
    expect({ told, missed }).toEqual({ told: 100, missed: 0 });
    expect(excluded).toBeLessThanOrEqual(7);
  }
});
