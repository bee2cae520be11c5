import { describe, expect, it } from "vitest";
import { runScenario } from "../../../packages/sim/src/report/run-scenario.ts";
import { changeTexts, type TextChange } from "../../../packages/sim/src/scenario/index.ts";
import { lastingCurrent } from "../../../packages/sim/src/study/weakest/fault-current.ts";
import { scenarioOf, shipped } from "./lines.ts";

const scr = (part: string): TextChange[] => [[["crowbar", "part"], part]];
const supply = (key: string, value: string): TextChange[] => [[["sources", 0, key], value]];

// The SCR goes on while the capacitors keep it above its holding current, and their dump heats it at each firing.
describe("a supply that hiccups", () => {
  it.each<readonly [string, TextChange[]]>([
    ["as it is shipped", []],
    ["with an SCR 25 A", scr("SCR 25 A")],
    ["with an SCR 50 A, which lets go at a larger current", scr("SCR 50 A")],
    ["with a late trip", [[["crowbar", "trip voltage"], "20 V"]]],
    ["that detects slowly", supply("limit", "{detection time: 30 ms}")],
    ["that rises slowly", supply("limit", "{ramp time: 200 ms}")],
    ["with much at its output", supply("output capacitance", "20 mF")],
    ["on a long thin lead", supply("lead", "{length: 10 m, area: 1.5 mm2}")],
  ])("%s: on-share and power are above the run's, and no more than a third", (_, changes) => {
    const text = changeTexts(shipped("02-hiccup-supply"), changes);
    const result = runScenario(text, "test.yaml");
    if (result.kind === "refused") throw new Error("refused");
    const cycling = result.run.crowbar?.cycling;
    const { pulses } = lastingCurrent(scenarioOf(text), { kind: "main" });
    for (const [told, found] of [
      [pulses?.onShare, cycling?.onShare],
      [pulses?.power, cycling?.longRun?.meanPower],
    ]) {
      expect(told).toBeGreaterThan(found ?? Number.NaN);
      expect(told).toBeLessThan(1.33 * (found ?? Number.NaN));
    }
  });
});
