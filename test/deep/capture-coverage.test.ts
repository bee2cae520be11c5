import { expect, test } from "vitest";
import { bends } from "../capture/bends.ts";
import { type PulseShape, pulseRecords, pulseShapes } from "../capture/pulses.ts";
import { flatRecords, pulses, ramps, ringings } from "../capture/records.ts";

const records = [100_000, 3000].flatMap((samples) =>
  [0.01, 0.02, 0.03, 0.05, 0.08, 0.3].flatMap((sigma) => [1e-3, 0.08, 0.16].map((step) => ({ samples, sigma, step }))),
);

test.each(records)(
  "peaks of flat records, $samples samples, σ $sigma V, steps of $step V: the truth within ±",
  (record) => {
    const { inside, wrong } = flatRecords(60, record);
    expect(inside).toBeGreaterThanOrEqual(54);
    expect(wrong).toBe(0);
  },
);

test.each(
  (Object.keys(pulseShapes) as PulseShape[]).flatMap((shape) =>
    [1e-6, 2e-6, 3e-6, 5e-6].flatMap((interval) =>
      [
        { sigma: 0.002, step: 1e-3 },
        { sigma: 0.03, step: 1e-3 },
        { sigma: 0.01, step: 32 / 255 },
        { sigma: 0.03, step: 32 / 255 },
      ].map((instrument) => ({ shape, interval, ...instrument })),
    ),
  ),
)("peaks of pulses, $shape every $interval s, σ $sigma V, steps of $step V", (record) => {
  const { inside, alone, wrong, width } = pulseRecords(200, record);
  process.stderr.write(`MEASURED  ${record.shape}, truth inside of 200: ${inside}, mean width ${width.toFixed(3)} V\n`);
  expect(alone).toBe(0);
  expect(inside).toBeGreaterThanOrEqual(0.91 * 200);
  expect(wrong).toBeLessThanOrEqual(0.06 * 200);
});

test.each([2e-6, 5e-6, 20e-6])("edges that bend, every %f s: the steepest slope within ±", (interval) => {
  const { rise, fall, steeper } = bends(200, interval);
  expect(rise).toBeGreaterThanOrEqual(0.9 * 200);
  expect(fall).toBeGreaterThanOrEqual(0.9 * 200);
  expect(steeper).toBeLessThanOrEqual(0.15 * 200);
});

test.each([16.2, 17, 20, 24, 40])("pulses to %f V: the time above within ±", (top) => {
  expect(pulses(1000, top).inside).toBeGreaterThanOrEqual(930);
});

test.each([
  [20, 0.05],
  [100, 0.05],
  [20, 0.2],
])("ramps of %f V/s with %f V of noise: the slope within ±, and no fall", (slope, sigma) => {
  const { told, inside, falls } = ramps(40, slope, sigma);
  expect(told).toBe(40);
  expect(inside).toBeGreaterThanOrEqual(38);
  expect(falls).toBe(0);
});

test.each(
  (
    [
      [20e3, 200e-6, 1e-6, 0.05, 32 / 255],
      [20e3, 200e-6, 1e-6, 0.02, 32 / 255],
      [20e3, 200e-6, 1e-6, 0.2, 32 / 255],
      [20e3, 200e-6, 1e-6, 0.05, 1e-3],
      [20e3, 200e-6, 4e-6, 0.05, 32 / 255],
      [20e3, 100e-6, 2e-6, 0.05, 32 / 255],
      [20e3, 600e-6, 1e-6, 0.1, 32 / 255],
      [20e3, 60e-6, 1e-6, 0.03, 1e-3],
      [21.7e3, 230e-6, 2.5e-6, 0.01, 1e-3],
      // From five samples a period on.
      [20e3, 200e-6, 50e-6 / 5.3, 0.03, 1e-3],
      [20e3, 200e-6, 50e-6 / 6.3, 0.005, 1e-3],
      [20e3, 200e-6, 50e-6 / 8.1, 0.1, 32 / 255],
    ] as const
  ).map(([frequency, decay, interval, sigma, step]) => ({ frequency, decay, interval, sigma, step })),
)("ringings of $frequency Hz that decay with $decay s, every $interval s, σ $sigma V, steps of $step V", (shape) => {
  const { told, frequency, decay, lean } = ringings(400, shape);
  process.stderr.write(`MEASURED  ringing, truth inside of ${told}: frequency ${frequency}, decay ${decay}\n`);
  expect(told).toBe(400);
  expect(frequency).toBeGreaterThanOrEqual(0.91 * 400);
  expect(decay).toBeGreaterThanOrEqual(0.91 * 400);
  expect(Math.abs(lean)).toBeLessThan(0.1);
});
