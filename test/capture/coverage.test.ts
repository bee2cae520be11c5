import { describe, expect, test } from "vitest";
import { bends } from "./bends.ts";
import { flatRecords, pulses, ramps, ringings } from "./records.ts";

describe("the truth lies within ±", () => {
  test.each([
    { samples: 20_000, sigma: 0.05, step: 1e-3 },
    { samples: 20_000, sigma: 0.08, step: 0.08 },
    { samples: 20_000, sigma: 0.05, step: 0.16 },
    // Steps that hide the noise: all but a few values stand on one of them.
    { samples: 5000, sigma: 0.02, step: 0.08 },
    { samples: 20_000, sigma: 0.01, step: 0.08 },
  ])("of the peak of a level of 15.85 V with noise: $samples samples, σ $sigma V, steps of $step V", (record) => {
    const { inside, wrong, width } = flatRecords(10, record);
    expect(inside).toBeGreaterThanOrEqual(9);
    expect(wrong).toBe(0);
    expect(width).toBeLessThan(2 * (8 * record.sigma + 1.3 * record.step));
  });

  test.each([16.2, 17, 20, 40])(
    "of the time above 15.9 V, where a pulse to %f V has edges that no sample saw",
    (top) => {
      const { inside, plusMinus } = pulses(100, top);
      expect(inside).toBeGreaterThanOrEqual(91);
      expect(plusMinus).toBeLessThan(1e-6);
    },
  );

  test.each([
    { frequency: 20e3, decay: 200e-6, interval: 1e-6, sigma: 0.2, step: 32 / 255 },
    { frequency: 20e3, decay: 200e-6, interval: 4e-6, sigma: 0.05, step: 32 / 255 },
    // Few samples a period, where each crest lies a little farther beside its sample than the one before.
    { frequency: 20e3, decay: 200e-6, interval: 50e-6 / 5.4, sigma: 0.03, step: 1e-3 },
    { frequency: 20e3, decay: 200e-6, interval: 50e-6 / 6.3, sigma: 0.005, step: 1e-3 },
  ])("of a ringing's frequency and decay, and the decay leans to no side: σ $sigma V, every $interval s", (shape) => {
    const { told, frequency, decay, lean } = ringings(60, shape);
    expect(told).toBe(60);
    expect(frequency).toBeGreaterThanOrEqual(53);
    expect(decay).toBeGreaterThanOrEqual(53);
    // In halves of an interval; chance leaves 0.07.
    expect(Math.abs(lean)).toBeLessThan(0.2);
  });

  test("a ringing of fewer than five samples a period is told as sampled too coarsely", () => {
    const { told, coarse } = ringings(20, {
      frequency: 20e3,
      decay: 300e-6,
      interval: 50e-6 / 4.1,
      sigma: 0.01,
      step: 1e-3,
    });
    expect(told).toBe(0);
    expect(coarse).toBeGreaterThanOrEqual(10);
  });

  test.each([5e-6, 20e-6])("of the steepest rise and fall of edges that bend, every %f s", (interval) => {
    const { told, rise, fall, steeper, width } = bends(60, interval);
    expect(told).toBe(60);
    expect(rise).toBeGreaterThanOrEqual(55);
    expect(fall).toBeGreaterThanOrEqual(55);
    expect(steeper).toBeLessThanOrEqual(9);
    expect(width).toBeLessThan(0.6);
  });

  test("of the steepest rise of a noisy ramp, and none claims a fall; a level claims neither", () => {
    const { told, inside, falls, mean } = ramps(5, 20, 0.05);
    expect({ told, inside, falls }).toEqual({ told: 5, inside: 5, falls: 0 });
    expect(Math.abs(mean - 20)).toBeLessThan(2);
    expect(ramps(5, 0, 0.05)).toMatchObject({ told: 0, falls: 0 });
  });
});
