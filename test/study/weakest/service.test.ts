import { describe, expect, it } from "vitest";
import { runScenario } from "../../../packages/sim/src/report/run-scenario.ts";
import { changeTexts, FitMemory, parseScenario, type TextChange } from "../../../packages/sim/src/scenario/index.ts";
import { settledLampCurrent } from "../../../packages/sim/src/scenario/lamp.ts";
import { matchParts } from "../../../packages/sim/src/study/weakest/run.ts";
import { largestDraws, switchOnI2t } from "../../../packages/sim/src/study/weakest/service.ts";
import { MatchStudy } from "../../../packages/sim/src/study/weakest/study.ts";
import { STATION, scenarioOf, shipped } from "./lines.ts";

const memory = new FitMemory();
const LAMP = {
  nominalPower: 140,
  nominalVoltage: 12,
  nominalTemperature: 2800,
  coldTemperature: 300,
  exponent: 1.2,
  heatCapacity: 0.05,
};
const lampLine = (setVoltage: number): string => `title: Lamp
fault at: 10 ms
run for: 30 ms
sources:
  - name: station supply
    part: linear supply 20 A
    set voltage: ${setVoltage} V
    fault: none
    lead: {length: 1 m, area: 4 mm2}
loads:
  - name: big lamp
    kind: lamp
    nominal power: 140 W
    nominal voltage: 12 V
    heat capacity: 0.05 J/K
    lead: {length: 1 m, area: 4 mm2}
    limits: {minimum: 11 V, maximum: 15.9 V}
`;

const transmittingLoad: TextChange = [["loads", 0, "part"], '"100 W radio, transmitting"'];

describe("a radio", () => {
  const withLoad = (...changes: TextChange[]) => parseScenario(changeTexts(shipped(STATION), changes), "x", memory);

  it("whose current on transmit was measured draws that, not what its class tells", () => {
    const own: TextChange = [["loads", 0, "current"], "12 A"];
    expect(largestDraws(withLoad(transmittingLoad, own))).toEqual([
      { load: "relay radio", current: 12, transmits: true, byClass: false },
    ]);
    const text = changeTexts(shipped(STATION), [transmittingLoad, own]);
    const answer = matchParts(text, "x", { fuses: ["blade fuse 20 A"], scrs: ["SCR 55 A"], most: 1 });
    if (answer.kind === "refused") throw new Error("refused");
    expect(answer.facts.service).toEqual({ current: 12, source: "the most that the loads draw by their own values" });
    // 12 A pass a fuse of 20 A for good.
    expect(answer.headline).toMatch(/What stands in the file is one of them/);
  });

  it("draws what its class tells where the user says nothing of transmitting", () => {
    expect(largestDraws(withLoad(transmittingLoad))).toMatchObject([{ current: 21, byClass: true }]);
    expect(largestDraws(withLoad([["loads", 0, "current"], "1.2 A"]))).toMatchObject([{ current: 21, byClass: true }]);
  });
});

describe("several loads", () => {
  it("by their own values and by class: both are told, and of which loads it is the class", () => {
    const own =
      "  - {name: own, kind: constant current, current: 3 A, input capacitance: 1 uF, esr: 10 mohm, limits: {minimum: 10 V, maximum: 16 V}, lead: {length: 1 m, area: 4 mm2}}\n";
    const study = new MatchStudy(`${changeTexts(shipped(STATION), [transmittingLoad]).trimEnd()}\n${own}`, "x", {
      fuses: [],
      scrs: [],
    });
    study.stop();
    const answer = study.result();
    if (answer.kind === "refused") throw new Error(answer.issues.map(({ message }) => message).join("; "));
    expect(answer.facts.service).toEqual({
      current: 24,
      source: "the most that the loads draw, by their own values, and on transmit by part class: relay radio",
    });
  });

  it("of a file with errors nothing is known", () => {
    expect(largestDraws(parseScenario("title: [", "x"))).toEqual([]);
  });

  it("without an input capacitor nothing is charged when the line is switched on", () => {
    expect(switchOnI2t(scenarioOf(lampLine(13.8)), 13.8)).toBe(0);
    expect(switchOnI2t(scenarioOf(shipped(STATION)), 13.8)).toBeGreaterThan(0);
  });
});

describe("a lamp", () => {
  // Source: for tungsten I ∝ V^0.54 to V^0.55 (published); this law gives 1 − 2a/(a + 4) = 0.538 far above cold.
  it("draws more at a higher voltage, by its own law", () => {
    expect(settledLampCurrent(LAMP, 12)).toBeCloseTo(140 / 12, 6);
    expect(settledLampCurrent(LAMP, 15.9) / (140 / 12)).toBeCloseTo((15.9 / 12) ** 0.538, 2);
    expect(settledLampCurrent(LAMP, 15.9)).toBeGreaterThan(13.5);
    expect(settledLampCurrent(LAMP, 0)).toBe(0);
  });

  it.each([13, 15])("settles on a line of %d V at the current that the law gives for its voltage", (set) => {
    const result = runScenario(lampLine(set), "x");
    if (result.kind === "refused") throw new Error(result.issues.map(({ message }) => message).join());
    const { atEnd } = result.run;
    const current = atEnd["big_lamp_A"];
    expect(current).toBeGreaterThan(140 / 12);
    expect(settledLampCurrent(LAMP, atEnd["big_lamp_V"])).toBeCloseTo(current, 3);
  });

  it("is taken at the most that it may see in service", () => {
    const [{ current }] = largestDraws(parseScenario(lampLine(14), "x"));
    expect(current).toBeCloseTo(settledLampCurrent(LAMP, 14), 9);
    expect(largestDraws(parseScenario(lampLine(18), "x"))[0].current).toBeCloseTo(settledLampCurrent(LAMP, 15.9), 9);
  });
});
