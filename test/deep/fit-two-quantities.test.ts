import { expect, test } from "vitest";
import { normals } from "../../packages/sim/scripts/instrument.ts";
import { fastInstrument, fittedTwo } from "../study/fit/two-quantities.ts";

const SEEDS = 24;

test("of two values fitted to a voltage and a current, 24 captures, the 95 % intervals hold the truth at least 20 times each", async () => {
  const offs: number[][] = [[], []];
  const inside = [0, 0];
  for (let seed = 0; seed < SEEDS; seed++) {
    const gauss = normals(900 + seed);
    const { found, truth } = await fittedTwo(fastInstrument(seed), [
      15 * (1 + 0.01 * Math.max(-2, Math.min(2, gauss()))),
      50 * (1 + 0.05 * Math.max(-2, Math.min(2, gauss()))),
    ]);
    expect(found.misfits).toEqual([]);
    for (const [k, { value, error, from, to }] of found.values.entries()) {
      offs[k]!.push((value - truth[k]!) / error);
      if (from <= truth[k]! && truth[k]! <= to) inside[k]!++;
    }
  }
  const means = offs.map((all) => all.reduce((sum, each) => sum + each / SEEDS, 0));
  process.stderr.write(
    `MEASURED  voltage and current, truth inside of ${SEEDS}: ${inside.join(", ")}; off by ${means.map((mean) => mean.toFixed(2)).join(", ")} standard errors in the mean\n`,
  );
  // Fewer than twenty of 24: six in a thousand at 95 %.
  for (const count of inside) expect(count).toBeGreaterThanOrEqual(20);
  for (const mean of means) expect(Math.abs(mean)).toBeLessThan(3 / Math.sqrt(SEEDS));
}, 600_000);
