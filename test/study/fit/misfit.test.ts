import { describe, expect, test } from "vitest";
import { type Capture, type Fit, fitScenario, fitStatus } from "../../../packages/sim/src/index.ts";
import { captured, captureOf, hiccupInstrument, scenarioWith } from "./bench.ts";

const OFF = "sources[0].limit.off time";
const RAMP = "sources[0].limit.ramp time";
const CURRENT = "sources[0].limit.current";
const TRIP = "crowbar.trip voltage";
const truth = { [OFF]: 331, [RAMP]: 22, [CURRENT]: 32, [TRIP]: 15.2 };
const real = scenarioWith("02-hiccup-supply", {
  [OFF]: "331 ms",
  [RAMP]: "22 ms",
  [CURRENT]: "32 A",
  [TRIP]: "15.2 V",
});
const base = scenarioWith("02-hiccup-supply", {});

async function fitted(capture: Capture, free: readonly string[]): Promise<Fit> {
  const answer = await fitScenario(base, "hut.yaml", capture, { free, channels: [] });
  if (answer.kind === "refused") throw new Error(answer.issues.map(({ message }) => message).join("; "));
  return answer;
}

const raised = ({ time, channels }: Capture, which: number, by: number): Capture =>
  captureOf(
    time,
    channels.map((channel, c) => ({ ...channel, values: channel.values.map((v) => (c === which ? v + by : v)) })),
  );

describe("a channel that shows 0.5 V too much or too little", () => {
  test.each([
    [0, 0.5, 1],
    [1, 0.5, 1],
    [0, 0.5, 2],
    [1, 0.5, 2],
    [0, -0.5, 3],
    [1, -0.5, 3],
  ])(
    "channel %i by %f V, seed %i: values near the truth, or a misfit",
    async (which, by, seed) => {
      const found = await fitted(raised(captured(real, hiccupInstrument(seed)), which, by), Object.keys(truth));
      const off = found.values.map(({ value, error }, k) => Math.abs(value - Object.values(truth)[k]!) / error);
      if (fitStatus(found) === 0) expect(Math.max(...off)).toBeLessThan(5);
      // A zero is found along with the values, as far as it is one.
      expect(off[0]).toBeLessThan(5);
    },
    120_000,
  );
});

describe("an instrument that is overdriven", () => {
  const line = scenarioWith("02-hiccup-supply", { [OFF]: "331 ms", [RAMP]: "22 ms" });
  const channels = hiccupInstrument(1).channels.map((channel) => ({ ...channel, range: [-4, 12] as const }));

  test("is told as such, with its samples left out, and the values are right", async () => {
    const found = await fitted(captured(line, hiccupInstrument(1, { channels })), [OFF, RAMP]);
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
    const found = await fitted(captured(line, hiccupInstrument(8)), [OFF, RAMP]);
    expect(found.untold.join(" ")).not.toContain("cut off");
  }, 120_000);
});
