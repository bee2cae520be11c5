import { describe, expect, test } from "vitest";
import { parseScenario } from "../../../packages/sim/src/index.ts";
import { Sampling } from "../../../packages/sim/src/study/spread/sampling.ts";
import { quantile } from "../../../packages/sim/src/study/spread/statistics.ts";
import { scattered } from "./scattered.ts";

function sampling(tolerances: readonly string[], seed = 3): Sampling {
  const { scenario, spreads, issues } = parseScenario(scattered(tolerances), "hut.yaml");
  if (scenario === null) throw new Error(issues.map(({ message }) => message).join("\n"));
  return new Sampling(spreads, seed, scenario.ambient);
}

const column = (from: Sampling, which: number, count = 4000) =>
  Float64Array.from({ length: count }, (_, k) => from.sample(k)[which]).sort();

describe("a drawn value", () => {
  test("uniform: quantiles lie on a straight line", () => {
    const values = column(sampling(["crowbar.trip voltage: 14…16 V"]), 0);
    for (const p of [0.1, 0.25, 0.5, 0.75, 0.9]) expect(quantile(values, p)).toBeCloseTo(14 + 2 * p, 1);
    expect(values[0]).toBeGreaterThanOrEqual(14);
    expect(values[values.length - 1]).toBeLessThanOrEqual(16);
  });

  test("normal: the ends are three standard deviations away and never passed", () => {
    const values = column(sampling(["crowbar.trip voltage: ±3 % normal"]), 0);
    const mean = values.reduce((sum, each) => sum + each, 0) / values.length;
    const deviation = Math.sqrt(values.reduce((sum, each) => sum + (each - mean) ** 2, 0) / values.length);
    expect(mean).toBeCloseTo(15, 1);
    // 0.9866 of the deviation is left where a normal distribution is cut at three of them (SciPy, truncnorm(-3, 3).std()).
    expect(deviation / (0.15 * 0.98658)).toBeGreaterThan(0.96);
    expect(deviation / (0.15 * 0.98658)).toBeLessThan(1.04);
    expect(values[0]).toBeGreaterThanOrEqual(14.55);
    expect(values[values.length - 1]).toBeLessThanOrEqual(15.45);
  });

  test("corners: one end or the other", () => {
    const values = column(sampling(["crowbar.trip voltage: 14…16 V corners"]), 0);
    expect(new Set(values)).toEqual(new Set([14, 16]));
    expect(values.filter((each) => each === 14).length / values.length).toBeCloseTo(0.5, 1);
  });

  test("drift follows the temperature of the same sample", () => {
    const drawn = sampling(["ambient: -20…50 °C", "crowbar.trip voltage: 15 V ± 1e-9 V with -3 mV/K from 20 °C"]);
    for (let k = 0; k < 50; k++) {
      const [ambient, trip] = drawn.sample(k);
      expect(trip).toBeCloseTo(15 - 3e-3 * (ambient - 20), 8);
    }
  });

  test("does not depend on what is drawn beside it", () => {
    const one = sampling(["crowbar.trip voltage: 14…16 V"]);
    const two = sampling(["crowbar.trip voltage: 14…16 V", "main fuse.cold resistance: ±10 %"]);
    for (let k = 0; k < 20; k++) expect(two.sample(k)[0]).toBe(one.sample(k)[0]);
  });
});

test("a sum of drawn values has the distribution that mathematics gives it", () => {
  // Irwin-Hall: the sum of three uniform ones; its distribution is known exactly.
  const drawn = sampling([
    "crowbar.trip voltage: 14…16 V",
    "station supply.set voltage: 13…14 V",
    "main fuse.cold resistance: 4…6 mohm",
  ]);
  const sums = Float64Array.from({ length: 6000 }, (_, k) => {
    const [trip, set, resistance] = drawn.sample(k);
    return (trip - 14) / 2 + (set - 13) + (resistance - 4) / 2;
  });
  const below = (x: number): number => {
    const cube = (y: number) => Math.max(0, y) ** 3;
    return (cube(x) - 3 * cube(x - 1) + 3 * cube(x - 2)) / 6;
  };
  const largest = Math.max(...sums.sort().map((value, k) => Math.abs(below(value) - (k + 0.5) / sums.length)));
  // Kolmogorov: 1.95 over the root of the number is passed once in a thousand.
  expect(largest).toBeLessThan(1.95 / Math.sqrt(sums.length));
});

describe("corners", () => {
  const drawn = sampling([
    "ambient: -20…50 °C",
    "crowbar.trip voltage: 14.9…15.1 V with -3 mV/K",
    "main fuse.cold resistance: ±10 %",
  ]);

  test("stand at the ends of the values named, all others stay", () => {
    expect(drawn.corner([1], 0)).toEqual([25, 14.9, drawn.nominal()[2]]);
    expect(drawn.corner([1], 1)).toEqual([25, 15.1, drawn.nominal()[2]]);
  });

  test("take drift along with the corner of the temperature", () => {
    expect(drawn.corner([1, 0], 0b00)[1]).toBeCloseTo(14.9 + 0.003 * 45, 12);
    expect(drawn.corner([1, 0], 0b11)[1]).toBeCloseTo(15.1 - 0.003 * 25, 12);
  });

  test("values are varied between ends that no draw passes", () => {
    const [, { low, high }] = drawn.varied();
    expect(low).toBeCloseTo(14.9 - 0.003 * 25, 12);
    expect(high).toBeCloseTo(15.1 + 0.003 * 45, 12);
    for (let k = 0; k < 500; k++) {
      const [, trip] = drawn.sample(k);
      expect(trip >= low && trip <= high).toBe(true);
    }
  });
});

test("the temperature alone takes along what drifts for certain, not what may go either way", () => {
  const drawn = sampling([
    "ambient: -20…50 °C",
    "crowbar.trip voltage: 14.9…15.1 V with -3 mV/K from 20 °C",
    "main fuse.cold resistance: ±10 % with ±50 ppm/K",
  ]);
  const [ambient, trip, resistance] = drawn.alone(0, "high");
  expect(ambient).toBe(50);
  expect(trip).toBeCloseTo(15 - 0.003 * 30, 12);
  expect(resistance).toBe(drawn.nominal()[2]);
});
