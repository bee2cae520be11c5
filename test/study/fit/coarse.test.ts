import { expect, test } from "vitest";
import { fitScenario } from "../../../packages/sim/src/index.ts";
import { shortestStay } from "../../../packages/sim/src/study/fit/edges.ts";
import { captured, hiccupInstrument, scenarioWith } from "./bench.ts";

const OFF = "sources[0].limit.off time";
const RAMP = "sources[0].limit.ramp time";

async function everyMs(interval: number) {
  const truth = scenarioWith("02-hiccup-supply", { [OFF]: "311 ms", [RAMP]: "21 ms" });
  const samples = Math.round(1.8 / interval);
  const capture = captured(truth, hiccupInstrument(3, { interval, samples }));
  return fitScenario(scenarioWith("02-hiccup-supply", {}), "hut.yaml", capture, { free: [OFF, RAMP], channels: [] });
}

test.each([0.01, 0.02])("a logger's samples between which whole rounds fall tell no value: %f s", async (interval) => {
  const found = await everyMs(interval);
  expect(found.kind === "refused" && found.issues.map(({ code }) => code)).toEqual(["too-coarse"]);
  const [issue] = found.kind === "refused" ? found.issues : [];
  expect(issue).toMatchObject({ received: `a sample every ${1000 * interval} ms` });
  expect(issue!.message).toMatch(/too far apart to tell one round from the next/);
  expect(issue!.allowed).toMatch(/^one every 4\.\d+ ms at least$/);
});

test("where each round has its samples the intervals hold the truth", async () => {
  const found = await everyMs(0.004);
  if (found.kind === "refused") throw new Error(found.issues[0]!.message);
  expect(found.misfits).toEqual([]);
  for (const [k, { from, to }] of found.values.entries()) {
    expect(from).toBeLessThan([311, 21][k]!);
    expect(to).toBeGreaterThan([311, 21][k]!);
  }
}, 120_000);

test("how long a curve stays beyond its level is counted between edges alone, in the window alone", () => {
  const time = Float64Array.from([0, 1, 2, 3, 4, 5, 6, 9, 10, 12]);
  const values = Float64Array.from([0, 0, 10, 10, 0, 0, 10, 10, 0, 0]);
  const level = { level: 5, half: 2 };
  // Up at 1.7, off at 3.3; down from 3.7 to 5.3; up from 5.7 to 9.3.
  expect(shortestStay({ time, values }, level, [0, 12])).toBeCloseTo(1.6, 9);
  expect(shortestStay({ time, values }, level, [5.5, 12])).toBeCloseTo(3.6, 9);
  expect(shortestStay({ time, values }, level, [6, 12])).toBe(Number.POSITIVE_INFINITY);
});
