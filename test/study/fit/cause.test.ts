import { expect, test } from "vitest";
import { fitScenario, fitStatus } from "../../../packages/sim/src/index.ts";
import { captured, hiccupInstrument, scenarioWith } from "./bench.ts";

const OFF = "sources[0].limit.off time";
const TRIP = "crowbar.trip voltage";

test.each([
  ["sources[0].limit.ramp time", "22 ms", true],
  ["sources[0].limit.detection time", "4.5 ms", true],
  ["loads[0].input capacitance", "4 mF", false],
] as const)(
  "what a wrong value that is held leaves is no ripple: %s of %s",
  async (path, text, isAtEvents) => {
    const truth = scenarioWith("02-hiccup-supply", { [OFF]: "310 ms", [path]: text });
    const base = scenarioWith("02-hiccup-supply", {});
    const capture = captured(truth, hiccupInstrument(5));
    const found = await fitScenario(base, "hut.yaml", capture, { free: [OFF, TRIP], channels: [] });
    if (found.kind === "refused") throw new Error("refused");
    expect(fitStatus(found)).toBe(1);
    expect(found.channels.map(({ misfit }) => misfit.ripple)).toEqual([null, null]);
    const told = found.misfits.join(" ");
    expect(told).not.toMatch(/swings|ripples/);
    expect(told).toContain("a value that was not freed may differ");
    expect(told.includes("It comes with the events")).toBe(isAtEvents);
  },
  120_000,
);
