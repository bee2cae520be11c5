import { describe, expect, it } from "vitest";
import { settledTemperature } from "../../../packages/sim/src/scenario/copper-heat.ts";
import { changeTexts, parseScenario, type TextChange } from "../../../packages/sim/src/scenario/index.ts";
import { findPart } from "../../../packages/sim/src/scenario/parts/index.ts";
import { dumpOf } from "../../../packages/sim/src/study/weakest/dump.ts";
import { lastingCurrent } from "../../../packages/sim/src/study/weakest/fault-current.ts";
import { ambientFactor, continuousCurrent } from "../../../packages/sim/src/study/weakest/fuse-rules.ts";
import { heatSinkNeeded, onStatePower } from "../../../packages/sim/src/study/weakest/heat-sink.ts";
import { arcingI2t } from "../../../packages/sim/src/study/weakest/surge-rules.ts";
import { loadWireChecks, shortCircuitI2t } from "../../../packages/sim/src/study/weakest/wire-rules.ts";
import { coordinateFor, STATION, shipped, shippedScenario } from "./lines.ts";

describe("what a fuse carries for good", () => {
  // Source: EDN, 26 Sep 1996: at most 75 % of the rating at 25 °C.
  it.each([
    [10, 7.5],
    [20, 15],
    [30, 22.5],
  ])("a %d A fuse %d A at 25 °C", (ratedCurrent, carried) => {
    expect(continuousCurrent({ ratedCurrent, meltingTemperature: 150 }, 25)).toBe(carried);
  });

  // Source: published table of allowed current over ambient (transcribed), in whole amperes: blade fuse 20 A 18 A at 20 °C, 15 A at 65 °C;
  // 10 A 10/8/7 A at 20/65/85 °C. So each may lie half an ampere off.
  it.each([
    [65, 15, 18],
    [65, 8, 10],
    [85, 7, 10],
  ])("at %d °C as much less than at 20 °C as published: %d A of %d A", (hot, then, cool) => {
    const blade = { meltingTemperature: Number(findPart("fuse", "blade fuse 20 A")?.values.meltingTemperature?.value) };
    const found = ambientFactor(blade, hot) / ambientFactor(blade, 20);
    expect(found).toBeGreaterThan((then - 0.5) / (cool + 0.5));
    expect(found).toBeLessThan((then + 0.5) / (cool - 0.5));
  });

  it("nothing is known of a fuse without a melting temperature, so nothing is re-rated", () => {
    expect(ambientFactor({ meltingTemperature: null }, 70)).toBe(1);
  });
});

describe("a fuse and an SCR", () => {
  // Source: published part data. Melting I²t of a 25 A blade fuse 1000 A²s (series 287 sheet), I²t of a 25 A SCR 450 A²s (TYN825 sheet), of a
  // 40 A one 1060 A²s (TYN640 sheet).
  it("a 25 A blade fuse does not protect a 25 A SCR", () => {
    const check = coordinateFor("blade fuse 25 A", "SCR 25 A").checks.find(({ rule }) => rule === "surge");
    expect(check?.kept).toBe(false);
    expect(check?.allowed).toBe(450);
    expect(check?.found).toBeGreaterThan(1000);
    expect(check?.sentence).toMatch(/1000 A²s of melting .* SCR 25 A stands 450 A²s/);
  });

  it("nor a 40 A one, whose 1060 A²s leave no room for the capacitors' dump", () => {
    expect(coordinateFor("blade fuse 25 A", "SCR 40 A").checks.find(({ rule }) => rule === "surge")?.kept).toBe(false);
  });

  it("where the rule is stricter than a run, for a fuse that takes longer than 10 ms, the reason says that it is a rule", () => {
    const { checks, meltsIn } = coordinateFor("blade fuse 30 A", "SCR 40 A");
    const surge = checks.find(({ rule }) => rule === "surge");
    expect(meltsIn).toBeGreaterThan(10e-3);
    expect(surge?.kept).toBe(false);
    expect(surge?.sentence).toContain("That is a rule of coordination, stricter for so slow a fuse than a full run");
    expect(surge?.sentence).not.toContain("the SCR's surge windows judge that");
  });

  it("but it protects one of 1750 A²s", () => {
    expect(coordinateFor("blade fuse 25 A", "SCR 55 A").checks.filter(({ kept }) => !kept)).toEqual([]);
  });

  // By hand, in the file's opening: 280 A decaying with 4 ms to 76 A; 160 A²s of dump.
  it("the shipped station's lasting current and dump are those worked by hand", () => {
    const { scr } = lastingCurrent(shippedScenario(), { kind: "main" });
    expect(Math.abs(scr - 76)).toBeLessThan(1);
    expect(Math.abs(dumpOf(shippedScenario(), { kind: "main" }).throughFuse - 160)).toBeLessThan(10);
  });

  // L·di/dt = V_arc − V: 76 A in 1 µH against 35 − 24 V fall to nothing within 6.91 µs; a triangle's i²t/3.
  it("arcing I²t is the triangle that the loop's inductance makes", () => {
    expect(arcingI2t(76, 1e-6, 35, 24)).toBeCloseTo((76 ** 2 * 6.909e-6) / 3, 5);
    expect(arcingI2t(76, 1e-6, 20, 24)).toBe(Number.POSITIVE_INFINITY);
  });
});

describe("a wire in a short circuit", () => {
  // Source: IEC 60364-4-43, k = 115 A·s^½/mm² for copper in PVC from 70 to 160 °C and 143 in XLPE from 90 to 250 °C (from memory); k²S².
  it.each([
    ["PVC", 70, 160, 115],
    ["XLPE", 90, 250, 143],
  ])("in %s from %d to %d °C stands k²S² with k = %d", (_, continuous, shortCircuit, k) => {
    for (const area of [1.5, 4, 10]) {
      const found = shortCircuitI2t({ copperArea: area * 1e-6, insulation: { continuous, shortCircuit } });
      expect(Math.abs(Math.sqrt(found) / area / k - 1)).toBeLessThan(0.005);
    }
  });

  // By hand: 39.4 A in 3.31 mm² for good, copper's resistance by 1/(234.5 °C + 20 °C), in the rounds that a bench uses: heat at the last temperature
  // gives the next. At a resistance held where IEC 60949's constants hold theirs it would be 67.5 °C, below PVC's 70 °C.
  it("settles where heating and cooling balance, with the resistance that copper has there", () => {
    const lead = { ...shippedScenario().loads[0].lead, copperArea: 3.31e-6, thermalTimeConstant: 60 };
    const held = (5e-15 * 39.4 ** 2 * 60) / 3.31e-6 ** 2;
    let settled = 25;
    for (let round = 0; round < 100; round++) settled = 25 + (held * (settled + 234.5)) / (5e-15 * 226e6 ** 2);
    expect(settledTemperature(lead, 39.4, 25)).toBeCloseTo(settled, 9);
    expect(settled).toBeGreaterThan(76);
    expect(settledTemperature(lead, 78.8, 25, 2 * lead.copperArea)).toBeCloseTo(settled, 9);
    expect(settledTemperature(lead, 200, 25)).toBe(1084.6);
  });

  it("is too thin for a load behind a fuse for which reading the file warns of it, and told the same temperature", () => {
    const wire: TextChange = [["loads", 0, "lead"], "{length: 1 m, gauge: 12 AWG}"];
    const text = changeTexts(shipped(STATION), [[["main fuse"], "blade fuse 30 A"], wire]);
    const { scenario, issues } = parseScenario(text, "hut.yaml");
    if (scenario?.mainFuse == null) throw new Error("no line");
    const [{ kept, sentence }] = loadWireChecks("blade fuse 30 A", scenario.mainFuse, scenario, []);
    expect(kept).toBe(false);
    expect(sentence).toContain("to 76.9 °C; its insulation allows 70 °C");
    expect(issues.find(({ code }) => code === "wire-not-protected")?.message).toContain("76.9 °C");
  });
});

describe("the heat sink", () => {
  // Worked by hand from the textbook's chain T_j = T_A + P·(R_JC + R_CA): 20 W, 125 °C, 50 °C, 1.5 K/W: 75/20 − 1.5 = 2.25 K/W.
  it("keeps the junction at its limit", () => {
    expect(heatSinkNeeded({ power: 20, limit: 125, ambient: 50, junctionToCase: 1.5 })).toBeCloseTo(2.25, 12);
    const needed = heatSinkNeeded({ power: 42, limit: 125, ambient: 25, junctionToCase: 0.9 });
    expect(25 + 42 * (0.9 + needed)).toBeCloseTo(125, 12);
  });

  it("is none where the case alone is too much", () => {
    expect(heatSinkNeeded({ power: 200, limit: 125, ambient: 25, junctionToCase: 0.9 })).toBeLessThan(0);
    expect(() => heatSinkNeeded({ power: 0, limit: 125, ambient: 25, junctionToCase: 1 })).toThrow("got 0");
  });

  // 1 V and 8.5 mohm at 33 A: 33 + 9.26 W.
  it("takes the power of threshold and slope", () => {
    expect(onStatePower({ thresholdVoltage: 1, slopeResistance: 8.5e-3 }, 33)).toBeCloseTo(42.2565, 9);
  });
});
