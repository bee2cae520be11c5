import { expect } from "vitest";
import { type Fit, fitScenario, fitStatus } from "../../../packages/sim/src/index.ts";
import { captured, hiccupInstrument, scenarioWith } from "./bench.ts";

const TRUTH = {
  "sources[0].limit.off time": [331, "ms"],
  "sources[0].limit.ramp time": [22, "ms"],
  "sources[0].limit.current": [32, "A"],
  "crowbar.trip voltage": [15.2, "V"],
} as const;

/** A hiccup supply's line with four values of its own. */
export const realLine = scenarioWith(
  "02-hiccup-supply",
  Object.fromEntries(Object.entries(TRUTH).map(([path, [value, unit]]) => [path, `${value} ${unit}`])),
);

/** Those four values found in a capture of it. */
export async function fittedFour(seed: number): Promise<Fit> {
  const answer = await fitScenario(
    scenarioWith("02-hiccup-supply", {}),
    "hut.yaml",
    captured(realLine, hiccupInstrument(seed)),
    { free: Object.keys(TRUTH), channels: [] },
  );
  if (answer.kind === "refused") throw new Error(answer.issues.map(({ message }) => message).join("; "));
  return answer;
}

/** Intervals of the four hold the truth, events lie within a sample, and few simulations were run for it. */
export function expectFour(found: Fit, seed: number): void {
  const told = found.values.map(
    ({ value, error, label }) => `${label} ${value.toPrecision(6)} ± ${(1.96 * error).toPrecision(2)}`,
  );
  process.stderr.write(`MEASURED  fit, seed ${seed}: ${found.simulations} simulations; ${told.join(", ")}\n`);
  expect(found.isConverged).toBe(true);
  for (const [k, value] of found.values.entries()) {
    expect(value.state).toBe("found");
    // One of sixty may lie outside 95 %; at three standard errors none does.
    expect(Math.abs(value.value - Object.values(TRUTH)[k]![0])).toBeLessThan(3 * value.error);
    expect(value.error).toBeLessThan(0.02 * value.value);
  }
  const { from, interval } = hiccupInstrument(seed);
  expect(found.events.length).toBeGreaterThanOrEqual(14);
  for (const { difference } of found.events) expect(Math.abs(difference!)).toBeLessThan(interval);
  expect(Math.abs(found.shift.value - from)).toBeLessThan(interval);
  // Of 30 ms each on a quiet machine: a fraction of the ten seconds.
  expect(found.simulations).toBeLessThan(120);
  expect(found.misfits).toEqual([]);
  expect(fitStatus(found)).toBe(0);
}
