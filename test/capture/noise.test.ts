import { describe, expect, test } from "vitest";
import { normals } from "../../packages/sim/scripts/instrument.ts";
import { judgedValues } from "./records.ts";

const Q = 32 / 255;

interface Shown {
  readonly samples: number;
  readonly interval: number;
  readonly sigma: number;
  readonly step: number;
}

/** What is told of noise, over that of a single value with its rounding: mean, least and most of 20 records. */
function told(line: (t: number) => number, { samples, interval, sigma, step }: Shown) {
  const truth = Math.hypot(sigma, step / Math.sqrt(12));
  const found = Array.from({ length: 20 }, (_, seed) => {
    const gauss = normals(seed + 1);
    const offset = step * (((seed + 1) * 0.618) % 1);
    const values = Float64Array.from({ length: samples }, (__, k) => {
      const value = line((k + ((seed * 0.414) % 1)) * interval) + sigma * gauss();
      return step > 0 ? offset + step * Math.round((value - offset) / step) : value;
    });
    return judgedValues(values, interval, step > 0 ? step : 1e-9, 100).resolution.noise / truth;
  });
  return {
    mean: found.reduce((sum, each) => sum + each / found.length, 0),
    least: Math.min(...found),
    most: Math.max(...found),
  };
}

test.each([
  { sigma: 0.05, step: 0 },
  { sigma: 0.375 * Q, step: Q },
  { sigma: 0.4 * Q, step: Q },
  { sigma: 0.7 * Q, step: Q },
  { sigma: 2 * Q, step: Q },
])("white noise of $sigma V in steps of $step V is told without a bias", (noise) => {
  const { mean, least, most } = told((t) => 13.8 + 40 * t, { samples: 4000, interval: 1e-5, ...noise });
  expect(Math.abs(mean - 1)).toBeLessThan(0.04);
  expect(least).toBeGreaterThan(0.9);
  expect(most).toBeLessThan(1.1);
});

test.each([20, 50, 100])("a ripple of 100 Hz and 0.5 V seen by %i samples a period is no noise", (perPeriod) => {
  const ripple = (t: number): number => 13.8 + 0.5 * Math.sin(2 * Math.PI * 100 * t);
  const interval = 0.01 / perPeriod;
  for (const noise of [
    { sigma: 0.02, step: 0 },
    { sigma: Q, step: Q },
  ]) {
    const { mean, most } = told(ripple, { samples: 2000, interval, ...noise });
    expect(Math.abs(mean - 1)).toBeLessThan(0.1);
    expect(most).toBeLessThan(1.4);
  }
  // Steps that hide the noise leave it open up to about a third of one.
  expect(told(ripple, { samples: 2000, interval, sigma: 0.1 * Q, step: Q }).most).toBeLessThan(1.6);
});

describe("rounds of a supply that goes on and off, no longer than 32 samples, are no noise", () => {
  test.each([
    [0.02, 0.317],
    [0.1, 0.317],
    [0.03, 0.15],
    [0.03, 0.08],
  ])("on for %f of %f s, every 10 ms", (on, period) => {
    const rounds = (t: number): number => (t % period < on ? 13.8 : 0.05);
    expect(told(rounds, { samples: 600, interval: 0.01, sigma: 0.02, step: 0 }).most).toBeLessThan(2);
    expect(told(rounds, { samples: 600, interval: 0.01, sigma: 0.3 * Q, step: Q }).most).toBeLessThan(2.5);
  });

  test("and leave their peak known where it is seen by some samples", () => {
    const gauss = normals(5);
    const values = Float64Array.from({ length: 600 }, (_, k) => (k < 50 || k % 32 < 10 ? 13.8 : 0.05) + 0.02 * gauss());
    const { highest, tooClose } = judgedValues(values, 0.01, 1e-3, 15.9);
    expect(highest.plus + highest.minus).toBeLessThan(0.3);
    expect(tooClose).toBe(false);
  });
});
