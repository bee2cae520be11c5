import { describe, expect, test } from "vitest";
import { type PulseRecord, type PulseShape, pulseRecords, pulseShapes } from "./pulses.ts";

const shapes = Object.keys(pulseShapes) as PulseShape[];
const instruments = [
  { sigma: 0.002, step: 1e-3 },
  { sigma: 0.03, step: 32 / 255 },
];

describe("the true peak lies within what is told, and no limit is kept or passed for certain on its wrong side", () => {
  test.each(
    shapes.flatMap((shape) =>
      [1e-6, 3e-6].flatMap((interval) => instruments.map((instrument) => ({ shape, interval, ...instrument }))),
    ),
  )("$shape every $interval s, σ $sigma V, steps of $step V", (record) => {
    const { inside, alone, wrong, width } = pulseRecords(60, record);
    expect(alone).toBe(0);
    expect(inside).toBeGreaterThanOrEqual(55);
    expect(wrong).toBeLessThanOrEqual(3);
    // Of 2 V, in steps of an eighth of a volt at worst.
    expect(width).toBeLessThan(1.3);
  });

  test.each<PulseRecord>([
    { shape: "a spike that decays", interval: 3e-6, sigma: 0.01, step: 1e-3, down: true },
    { shape: "a ringing", interval: 3e-6, sigma: 0.01, step: 1e-3, down: true },
  ])("upside down, of the lowest value: $shape", (record) => {
    expect(pulseRecords(60, record).inside).toBeGreaterThanOrEqual(55);
  });

  test("a spike that one sample saw: nobody knows how far it went, and no limit is kept for certain", () => {
    const { alone, wrong } = pulseRecords(60, {
      shape: "a spike that decays",
      interval: 25e-6,
      sigma: 0.002,
      step: 1e-3,
    });
    expect(alone).toBeGreaterThanOrEqual(50);
    expect(wrong).toBe(0);
  });
});
