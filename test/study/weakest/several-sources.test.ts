import { describe, expect, it } from "vitest";
import type { Answered } from "../../../packages/sim/src/report/run-scenario.ts";
import { runScenario } from "../../../packages/sim/src/report/run-scenario.ts";
import { coordinate } from "../../../packages/sim/src/study/weakest/combination-rules.ts";
import { dumpOf } from "../../../packages/sim/src/study/weakest/dump.ts";
import { lastingCurrent } from "../../../packages/sim/src/study/weakest/fault-current.ts";
import { outcomeOf } from "../../../packages/sim/src/study/weakest/outcome.ts";
import { matchParts } from "../../../packages/sim/src/study/weakest/run.ts";
import { FUSED_BATTERY, STATION, scenarioOf, shipped } from "./lines.ts";

const place = { kind: "source", index: 1 } as const;

function ran(text: string): Answered {
  const result = runScenario(text, "test.yaml");
  if (result.kind === "refused") throw new Error("refused");
  return result;
}

function checksOf(text: string) {
  const scenario = scenarioOf(text);
  const { fuse } = scenario.sources[1].lead;
  if (fuse === null || scenario.crowbar === null) throw new Error("no fuse or no SCR");
  const line = { scenario, place, crowbar: scenario.crowbar, fuse };
  return coordinate({ fuse: "blade fuse 30 A", scr: "SCR 55 A" }, line, lastingCurrent(scenario, place), 24).checks;
}

describe("a fuse in the lead of one source of two", () => {
  const surge = checksOf(FUSED_BATTERY).find(({ rule }) => rule === "surge");

  it("is no measure of what the SCR gets: the other source goes past it, and the rule counts that", () => {
    const { run } = ran(FUSED_BATTERY);
    const fuse = run.fuses.find(({ subject }) => subject.owner === "hut battery");
    // The SCR's worst 10 ms end just after the fuse has opened.
    expect((fuse?.openTime ?? 0) - 0.02).toBeLessThan(0.01);
    const got = run.crowbar?.worst10msI2t ?? 0;
    expect(got).toBeGreaterThan(2100);
    expect(surge?.found).toBeGreaterThan(got);
    expect(surge?.found).toBeLessThan(1.25 * got);
    expect(surge?.kept).toBe(false);
    expect(surge?.sentence).toMatch(/from what flows past the fuse .* until blade fuse 30 A is open/);
  });

  it("is not passed by what the other source's capacitors dump", () => {
    const scenario = scenarioOf(FUSED_BATTERY);
    expect(dumpOf(scenario, place).throughFuse).toBe(0);
    const all = dumpOf(scenario, { kind: "main" });
    expect(dumpOf(scenario, place).beside).toBeCloseTo(all.throughFuse + all.beside, 9);
    expect(dumpOf(scenario, { kind: "source", index: 0 })).toEqual(all);
  });

  it("ends nothing where the other source keeps the SCR on", () => {
    const held = checksOf(FUSED_BATTERY).find(({ rule }) => rule === "heat sink");
    expect(held?.kept).toBe(false);
    expect(held?.sentence).toMatch(/Once blade fuse 30 A is open, the other sources go on with 75/);
    // The same with an SCR that the surge does not hurt: the run shows it held on.
    const strong = FUSED_BATTERY.replace(
      "sense filter: fast}",
      "sense filter: fast, ratings: {surge current: 2000 A, I2t: 16000 A2s}, case to ambient: 0.1 K/W}",
    );
    expect(outcomeOf("strong", ran(strong), place)).toMatchObject({ ending: "held on", sound: false });
  });
});

describe("a fuse that melts more slowly than its melting I²t speaks of", () => {
  it("is told with what the run let through, and with the rule by which the SCR stands that", () => {
    const answer = matchParts(shipped(STATION), "test.yaml", { fuses: ["blade fuse 30 A"], scrs: ["SCR 55 A"] });
    if (answer.kind === "refused") throw new Error("refused");
    const [{ outcome, checks }] = answer.sound;
    const through = outcome?.letThroughI2t ?? 0;
    // More than the SCR's I²t of 1750 A²s, which holds for 10 ms.
    expect(through).toBeGreaterThan(1750);
    const told = outcome?.notes.find((note) => note.includes("surge windows"));
    expect(told).toMatch(/within 10 ms, of the 1750 A²s that its I²t allows for so long/);
    expect(told).toMatch(/The 2[56]\d0 A²s of the whole run it stands by its surge windows: .* RMS over 100 ms/);
    const surge = checks.find(({ rule }) => rule === "surge");
    expect(surge?.sentence).not.toMatch(/until blade fuse 30 A is open/);
    expect(surge?.sentence).toMatch(/that melts within 10 ms; .* takes about 4[34]0 ms and lets more through/);
  });

  it("is not sound where the SCR gets more than its I²t within the time for which that holds", () => {
    const weak = shipped(STATION).replace("sense filter: fast}", "sense filter: fast, ratings: {I2t: 200 A2s}}");
    const { reasons } = outcomeOf("weak", ran(weak), { kind: "main" });
    expect(reasons.join()).toMatch(/The SCR carried 2[23]\d A²s within 10 ms; its I²t is 200 A²s\./);
  });
});
