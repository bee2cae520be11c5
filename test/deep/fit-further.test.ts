import { describe, expect, test } from "vitest";
import { type Fit, fitHeadline, fitScenario, fitStatus } from "../../packages/sim/src/index.ts";
import { captured, hiccupInstrument, scenarioWith } from "../study/fit/bench.ts";
import { shortedSeen } from "../study/fit/claims.ts";
import { realLine } from "../study/fit/four-values.ts";

const base = scenarioWith("02-hiccup-supply", {});
const OFF = "sources[0].limit.off time";
const RAMP = "sources[0].limit.ramp time";
const TRIP = "crowbar.trip voltage";

async function fitted(
  ...[capture, free, channels = []]: [Parameters<typeof fitScenario>[2], readonly string[], (readonly string[])?]
): Promise<Fit> {
  const answer = await fitScenario(base, "hut.yaml", capture, { free, channels });
  if (answer.kind === "refused") throw new Error(answer.issues.map(({ message }) => message).join("; "));
  return answer;
}

describe("what the model lacks is told, not swallowed", () => {
  test("a ripple, with its frequency", async () => {
    const capture = captured(realLine, hiccupInstrument(6), (t) => 0.08 * Math.sin(2 * Math.PI * 100 * t));
    const found = await fitted(capture, [OFF, RAMP, TRIP]);
    expect(found.channels[0]!.misfit.isBeyondNoise).toBe(true);
    expect(found.channels[0]!.misfit.ripple!.frequency).toBeCloseTo(100, -0.5);
    expect(found.misfits.join(" ")).toMatch(/swings at (99|100|101)[.\d]* Hz with an amplitude of [78]\d[.\d]* mV/);
    expect(fitHeadline(found)).toContain("more than noise is left");
    expect(fitStatus(found)).toBe(1);
  }, 120_000);

  test("without one nothing is told, and of six intervals at 95 % five hold the truth", async () => {
    let held = 0;
    for (const seed of [3, 4, 5]) {
      const { found, told } = await shortedSeen(seed, {});
      expect(found.channels.map(({ misfit }) => misfit.isBeyondNoise)).toEqual([false, false]);
      expect([fitStatus(found), told]).toEqual([0, 0]);
      for (const [k, { from, to }] of found.values.entries()) if (from < [15.2, 50][k]! && [15.2, 50][k]! < to) held++;
    }
    expect(held).toBeGreaterThanOrEqual(5);
  }, 120_000);
});
