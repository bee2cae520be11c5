import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { philox, unitsAt } from "../../../packages/sim/src/study/pool/counter.ts";
import { cutNormalQuantile, normalQuantile } from "../../../packages/sim/src/study/spread/normal.ts";
import {
  chanceCorrelation,
  quantile,
  rankCorrelation,
  ranks,
  wilson,
} from "../../../packages/sim/src/study/spread/statistics.ts";

interface Values {
  readonly normal: readonly (readonly [number, number])[];
  readonly "cut normal": readonly (readonly [number, number])[];
  readonly wilson: readonly (readonly [number, number, number, number])[];
  readonly quantiles: readonly { readonly values: number[]; readonly at: readonly (readonly [number, number])[] }[];
  readonly ranks: readonly { readonly values: number[]; readonly ranks: number[] }[];
  readonly spearman: readonly { readonly a: number[]; readonly b: number[]; readonly rho: number }[];
}

/** Made by the script beside it with SciPy. */
const scipy: Values = JSON.parse(readFileSync(join(import.meta.dirname, "scipy-values.json"), "utf8"));

describe("against SciPy", () => {
  test.each(scipy.normal)("normal quantile of %d", (probability, value) => {
    expect(Math.abs(normalQuantile(probability) - value)).toBeLessThan(2e-14 * Math.max(1, Math.abs(value)));
  });

  test.each(scipy["cut normal"])("quantile of %d of a normal cut at three deviations", (probability, value) => {
    expect(Math.abs(cutNormalQuantile(probability) - value)).toBeLessThan(1e-9);
  });

  test.each(scipy.wilson)("Wilson's interval of %d in %d", (count, of, low, high) => {
    const found = wilson(count, of);
    expect(found.low).toBeCloseTo(low, 13);
    expect(found.high).toBeCloseTo(high, 13);
    expect(found.share).toBe(count / of);
  });

  test.each(scipy.quantiles)("quantiles, definition 7, of sample %#", ({ values, at }) => {
    const sorted = Float64Array.from(values).sort();
    for (const [probability, value] of at) expect(quantile(sorted, probability)).toBeCloseTo(value, 13);
  });

  test.each(scipy.ranks)("ranks with ties of sample %#", ({ values, ranks: expected }) => {
    expect([...ranks(values)]).toEqual(expected);
  });

  test.each(scipy.spearman)("Spearman's rank correlation of pair %#", ({ a, b, rho }) => {
    expect(rankCorrelation(a, b)).toBeCloseTo(rho, 13);
  });
});

test("what never changes has no rank correlation", () => {
  expect(rankCorrelation([1, 1, 1], [1, 2, 3])).toBeNull();
});

test("a rank correlation of independent values stays within what chance allows in 95 of 100 cases", () => {
  const samples = 200;
  const beyond = Array.from({ length: 400 }, (_, seed) => {
    const column = (value: number) => Array.from({ length: samples }, (_, k) => unitsAt(seed, k, value)[0]);
    return Math.abs(rankCorrelation(column(0), column(1)) ?? 1) > chanceCorrelation(samples);
  }).filter(Boolean).length;
  // 20 expected; four deviations to either side.
  expect(beyond).toBeGreaterThan(3);
  expect(beyond).toBeLessThan(38);
});

describe("draws", () => {
  // Known answers of the published generator (kat_vectors of its authors' library, from memory; all three agree).
  test.each([
    [[0, 0, 0, 0], [0, 0], "6627e8d5 e169c58d bc57ac4c 9b00dbd8"],
    [[0xffffffff, 0xffffffff, 0xffffffff, 0xffffffff], [0xffffffff, 0xffffffff], "408f276d 41c83b0e a20bc7c6 6d5451fd"],
    [[0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344], [0xa4093822, 0x299f31d0], "d16cfe09 94fdcceb 5001e420 24126ea1"],
  ] as const)("philox of %j under %j", (counter, key, expected) => {
    const words = philox(counter, key).map((word) => word.toString(16).padStart(8, "0"));
    expect(words.join(" ")).toBe(expected);
  });

  test("fill the unit interval evenly and never touch its ends", () => {
    const bins = new Array<number>(20).fill(0);
    const count = 20_000;
    for (let k = 0; k < count; k++) {
      const [a, b] = unitsAt(5, k, 3);
      expect(a > 0 && a < 1 && b > 0 && b < 1).toBe(true);
      bins[Math.floor(a * 20)] += 1;
      bins[Math.floor(b * 20)] += 1;
    }
    const expected = (2 * count) / 20;
    const chiSquare = bins.reduce((sum, each) => sum + (each - expected) ** 2 / expected, 0);
    // 99.9 % of a chi-square with 19 degrees of freedom.
    expect(chiSquare).toBeLessThan(43.82);
  });

  test("differ with seed, sample and value, also beyond 32 bits", () => {
    const all = [unitsAt(1, 0, 0), unitsAt(2, 0, 0), unitsAt(1, 1, 0), unitsAt(1, 0, 1), unitsAt(1 + 2 ** 40, 0, 0)];
    expect(new Set(all.flat()).size).toBe(10);
  });
});
