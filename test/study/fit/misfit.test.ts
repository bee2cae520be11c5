import { describe, expect, test } from "vitest";
import { type Capture, type Fit, fitScenario, layCapture } from "../../../packages/sim/src/index.ts";
import { BRIEFLY, captured, hiccupInstrument, scenarioWith } from "./bench.ts";

const OFF = "sources[0].limit.off time";
const RAMP = "sources[0].limit.ramp time";
const base = scenarioWith("02-hiccup-supply", {});

async function fitted(capture: Capture, free: readonly string[]): Promise<Fit> {
  const answer = await fitScenario(base, "hut.yaml", capture, { free, channels: [] });
  if (answer.kind === "refused") throw new Error(answer.issues.map(({ message }) => message).join("; "));
  return answer;
}

describe("an instrument that is overdriven", () => {
  const line = scenarioWith("02-hiccup-supply", { [OFF]: "331 ms", [RAMP]: "22 ms" });
  const channels = hiccupInstrument(1).channels.map((channel) => ({ ...channel, range: [-4, 12] as const }));

  test("is told as such, with its samples left out, and the values are right", async () => {
    const found = await fitted(captured(line, hiccupInstrument(1, { channels, ...BRIEFLY })), [OFF, RAMP]);
    expect(found.misfits).toEqual([]);
    const told = found.untold.filter((sentence) => sentence.includes("is cut off at 12 V"));
    expect(told).toHaveLength(2);
    expect(told[0]).toMatch(
      /^"radio" is cut off at 12 V, where the instrument's range ends: the \d+ samples there were left out\.$/,
    );
    for (const [k, { value, error }] of found.values.entries())
      expect(Math.abs(value - [331, 22][k]!)).toBeLessThan(3.5 * error);
  }, 120_000);

  test("a whole curve is not called so", async () => {
    const laid = await layCapture(line, "hut.yaml", captured(line, hiccupInstrument(8)), { channels: [] });
    if (laid.kind === "refused") throw new Error("refused");
    expect(laid.untold.join(" ")).not.toContain("cut off");
  }, 120_000);
});
