import { describe, expect, test } from "vitest";
import { normals } from "../../packages/sim/scripts/instrument.ts";
import { clippedRecords, orderlies, overvoltages } from "./clips.ts";
import { judgedValues } from "./records.ts";

const STEP = 32 / 255;
const quiet = [0, 0.2 * STEP, 0.4 * STEP];

describe("a peak that the instrument's range cut off at 15.2 V is never told to stay within 15.9 V", () => {
  test.each(
    Object.keys(overvoltages).flatMap((shape) =>
      [10e-6, 40e-6].map((interval) => [shape as keyof typeof overvoltages, interval] as const),
    ),
  )("%s, every %f s", (shape, interval) => {
    for (const sigma of quiet) {
      const { within } = clippedRecords(20, overvoltages[shape], { sigma, interval, end: 15.2 });
      expect(within, `noise of ${sigma} V`).toBeLessThanOrEqual(1);
    }
  });

  test("nor one of which the range cut off only the crest", () => {
    const crest = (t: number): number => 13.8 + (t < 2e-3 ? 2.3 * Math.sin((Math.PI * t) / 2e-3) : 0);
    for (const sigma of quiet)
      expect(clippedRecords(20, crest, { sigma, interval: 10e-6, end: 15.8 }).within).toBeLessThanOrEqual(1);
  });
});

describe("what a flat top only looks like by its rounding, or is the level of service, stays certain", () => {
  test.each(Object.keys(orderlies) as (keyof typeof orderlies)[])("%s", (shape) => {
    for (const sigma of quiet)
      expect(
        clippedRecords(20, orderlies[shape], { sigma, interval: 10e-6, end: 30 }).doubted,
        `noise of ${sigma} V`,
      ).toBe(0);
  });

  test("a slow rise whose top lies on a step, after a service halfway between two, which little noise moves", () => {
    for (let seed = 1; seed <= 5; seed++) {
      const gauss = normals(seed);
      const values = Float64Array.from({ length: 230_000 }, (_, k) => {
        const value = 13.8 + Math.max(0, (k % 120_000) - 110_000) * 1e-4;
        return 0.08 * Math.round(value / 0.08 + 0.15 * gauss());
      });
      const { findings } = judgedValues(values, 1e-6, 1e-3, 15.9);
      expect(findings[0]!.severity).not.toBe("unknown");
    }
  });
});
