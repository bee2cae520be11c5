import { expect, test } from "vitest";
import { type FittedSix, fittedSix } from "../study/fit/six-values.ts";

const SEEDS = 50;

test("of six values fitted to 50 synthetic captures the 95 % intervals hold the truth at least 43 times each, and in 91 to 98 % of all", async () => {
  const all: (readonly FittedSix[])[] = [];
  for (let seed = 0; seed < SEEDS; seed++) {
    const { values, misfits } = await fittedSix(seed);
    expect(misfits).toEqual([]);
    all.push(values);
    const offs = values.map(({ isInside, off }) => `${off.toFixed(2)}${isInside ? "" : "!"}`);
    process.stderr.write(`MEASURED  fit of six values, seed ${seed}: off by ${offs.join(", ")} standard errors\n`);
  }
  const inside = all[0]!.map((_, k) => all.filter((values) => values[k]!.isInside).length);
  const told = all[0]!.map(({ label }, k) => `${label} ${inside[k]}`);
  const pooled = inside.reduce((sum, each) => sum + each, 0) / (SEEDS * inside.length);
  process.stderr.write(
    `MEASURED  fit of six values, truth inside of ${SEEDS}: ${told.join(", ")}; ${(100 * pooled).toFixed(1)} %\n`,
  );
  for (const count of inside) expect(count).toBeGreaterThanOrEqual(43);
  expect(pooled).toBeGreaterThanOrEqual(0.91);
  expect(pooled).toBeLessThanOrEqual(0.98);
  // No value is drawn to one side: the mean of 50 standard normal deviates lies within 3/√50.
  for (const k of inside.keys()) {
    const mean = all.reduce((sum, values) => sum + values[k]!.off, 0) / SEEDS;
    expect(Math.abs(mean)).toBeLessThan(3 / Math.sqrt(SEEDS));
  }
}, 3_600_000);
