import { describe, expect, it } from "vitest";
import type { Scenario } from "../../../packages/sim/src/scenario/types.ts";
import { lastingCurrent } from "../../../packages/sim/src/study/weakest/fault-current.ts";
import { fuseChecks } from "../../../packages/sim/src/study/weakest/fuse-rules.ts";
import { heldOn } from "../../../packages/sim/src/study/weakest/held-on.ts";
import { matchData } from "../../../packages/sim/src/study/weakest/matrix.ts";
import { matchParts } from "../../../packages/sim/src/study/weakest/run.ts";
import { scrRules } from "../../../packages/sim/src/study/weakest/scr-rules.ts";
import type { LineFacts } from "../../../packages/sim/src/study/weakest/types.ts";
import { STATION, shipped, shippedScenario } from "./lines.ts";

const main = { kind: "main" } as const;

describe("the rules of a fuse alone", () => {
  const facts = {
    ambient: 25,
    service: { current: 12, source: "" },
    switchOnI2t: 1,
    prospective: { current: 280, voltage: 24 },
  } as LineFacts;
  const fuse = {
    ratedCurrent: 20,
    ratedVoltage: 32,
    breakingCapacity: 1000,
    nominalMeltingI2t: 500,
    meltingTemperature: 150,
  };
  const checks = (change: Partial<typeof fuse> | object = {}, more: Partial<LineFacts> = {}) =>
    fuseChecks({ name: "fuse", yours: false, changes: [] }, { ...fuse, ...change }, { ...facts, ...more }, [
      "main fuse",
    ]);
  const check = (rule: string, ...asked: Parameters<typeof checks>) =>
    checks(...asked).find((each) => each.rule === rule);

  it("all are kept by one that is large enough", () => {
    expect(checks().map(({ rule, kept }) => [rule, kept])).toEqual([
      ["continuous load", true],
      ["switch-on pulse", true],
      ["breaking capacity", true],
      ["rated voltage", true],
    ]);
  });

  it("the current is re-rated where it is not 25 °C, and the sentence says by how much", () => {
    expect(check("continuous load")?.sentence).toBe(
      "The line draws 12 A in service; fuse carries 15 A for good (75 % of its rating).",
    );
    // √((150 − 65)/(150 − 25)) = 0.82 of 15 A.
    expect(check("continuous load", {}, { ambient: 65 })?.sentence).toContain(
      "carries 12.4 A for good (75 % of its rating times 0.82 at 65 °C)",
    );
  });

  it("what is not known cannot be said to be kept", () => {
    expect(check("continuous load", { ratedCurrent: null })).toMatchObject({
      kept: false,
      mend: null,
      sentence:
        "The line draws 12 A in service; the rated current of fuse is not known, so nobody can say that it carries that.",
    });
    expect(check("switch-on pulse", { nominalMeltingI2t: null })).toMatchObject({ kept: false, allowed: null });
    expect(check("switch-on pulse", { nominalMeltingI2t: null })?.sentence).toContain(
      "nobody can say how often it stands that",
    );
    expect(check("breaking capacity", { breakingCapacity: null })).toMatchObject({ kept: false });
    expect(check("rated voltage", { ratedVoltage: Number.NaN })).toMatchObject({ kept: false, allowed: null });
  });

  it("a line without inputs to charge asks nothing of a fuse, known or not", () => {
    for (const nominalMeltingI2t of [500, null])
      expect(check("switch-on pulse", { nominalMeltingI2t }, { switchOnI2t: 0 })?.kept).toBe(true);
  });
});

describe("what flows for good into the fired SCR", () => {
  const station = shippedScenario();
  const [supply] = station.sources;
  if (supply.kind !== "supply" || station.crowbar === null) throw new Error("no supply");
  const { crowbar } = station;
  const alone = (limit: object, fault: object = { kind: "none" }): Scenario => ({
    ...station,
    sources: [
      {
        ...supply,
        reservoir: null,
        sourceResistance: 0.01,
        limit: { ...supply.limit, ...limit },
        fault: { ...supply.fault, ...fault },
      } as typeof supply,
    ],
  });

  it("what a limiter leaves, for good, in pulses or until it shuts off", () => {
    const at = (limit: object) => lastingCurrent(alone(limit), main);
    const held = at({ style: "constant current", current: 25 });
    expect([held.scr, held.style, held.detectionTime]).toEqual([expect.closeTo(25, 6), "steady", null]);
    const off = at({ style: "latch off", current: 25, detectionTime: 0.02 });
    expect([off.scr, off.style, off.detectionTime, off.pulses]).toEqual([expect.closeTo(25, 6), "ends", 0.02, null]);
    const hiccup = at({ style: "hiccup", current: 25, detectionTime: 0.02, retryTime: 1, pauseTime: 1 });
    expect([hiccup.scr, hiccup.style, hiccup.detectionTime]).toEqual([expect.closeTo(25, 6), "pulses", 0.02]);
    expect(hiccup.pulses).not.toBeNull();
  });

  it("without a limit the resistance of the way decides", () => {
    const { scr } = lastingCurrent(alone({ style: "none" }), main);
    const way =
      0.01 +
      supply.lead.resistance +
      (station.mainFuse?.coldResistance ?? 0) +
      crowbar.slopeResistance +
      crowbar.stubResistance;
    expect(scr).toBeCloseTo((supply.setVoltage - crowbar.thresholdVoltage) / way, 3);
  });

  it("a foldback limiter gives little more than its short-circuit current at so low a voltage", () => {
    const { scr, style } = lastingCurrent(alone({ style: "foldback", current: 25, shortCircuitCurrent: 5 }), main);
    expect(style).toBe("steady");
    expect(scr).toBeGreaterThan(5);
    expect(scr).toBeLessThan(10);
  });

  it("a shorted pass transistor passes every limiter", () => {
    const shorted = { ...alone({ style: "latch off", current: 5, detectionTime: 0.02 }) };
    const sources = [{ ...supply, limit: (shorted.sources[0] as typeof supply).limit } as typeof supply];
    const found = lastingCurrent({ ...station, sources }, main);
    expect(found.style).toBe("steady");
    expect(found.scr).toBeGreaterThan(70);
  });

  it("a panel gives its short-circuit current once its controller is broken, and nothing before", () => {
    const panel = shippedScenario("09-panel-and-battery").sources.find(({ kind }) => kind === "panel");
    if (panel?.kind !== "panel") throw new Error("no panel");
    const with_ = (kind: string) =>
      lastingCurrent({ ...station, sources: [{ ...panel, fault: { ...panel.fault, kind } } as typeof panel] }, main);
    expect(with_("none").scr).toBe(0);
    expect(with_(panel.fault.kind).scr).toBeCloseTo(panel.shortCircuitCurrent, 6);
  });

  it("asks for a heat sink where it goes on, none where it ends, and says where even a large one is too small", () => {
    const names = { fuse: "fuse", scr: "SCR" };
    const held = (limit: object) => {
      const scenario = alone(limit);
      return heldOn(names, { scenario, crowbar, fuse: station.mainFuse }, lastingCurrent(scenario, main));
    };
    expect(held({ style: "latch off", current: 25, detectionTime: 0.02 })).toBeNull();
    expect(held({ style: "constant current", current: 19 })?.check.kept).toBe(true);
    // 100 K over 0.9 K/W of the junction and what is left for the sink: 0.3 K/W are passed at some 83 W, nothing is left at 111 W.
    const at = (power: number) => {
      const { thresholdVoltage: v, slopeResistance: r } = crowbar;
      return held({ style: "constant current", current: (Math.sqrt(v ** 2 + 4 * r * power) - v) / (2 * r) })?.check;
    };
    const inner = crowbar.junctionStages.reduce((sum, { resistance }) => sum + resistance, 0);
    const rise = crowbar.ratings.junctionTemperature - station.ambient;
    expect(at(rise / (inner + 0.2))?.sentence).toContain("less than the 300 mK/W of a large one");
    expect(at(rise / (inner + 0.2))?.kept).toBe(false);
    expect(at((1.2 * rise) / inner)?.sentence).toContain("no heat sink keeps its junction at 125 °C");
  });

  it("holds an SCR against its rating of current rise, where one is known", () => {
    const rise = (currentRise: number | null) => {
      const changed = { ...crowbar, ratings: { ...crowbar.ratings, currentRise } };
      const { checks, inductance } = scrRules(
        "SCR",
        { ...station, crowbar: changed },
        changed,
        lastingCurrent(station, main),
      );
      return { ...checks.find(({ rule }) => rule === "current rise"), inductance };
    };
    expect(rise(null)).toMatchObject({ kept: true, inductance: null });
    expect(rise(null).sentence).toMatch(/; no rating is known\.$/);
    expect(rise(1e12)).toMatchObject({ kept: true, inductance: null });
    // A few turns of wire keep what is passed without them.
    const found = rise(1e12).found ?? 0;
    const slow = rise(found / 2);
    expect(slow.kept).toBe(true);
    expect(slow.inductance).toBeGreaterThan(crowbar.inductance);
    expect(slow.sentence).toMatch(/of its branch; only .* is allowed, which .* keep\.$/);
  });
});

describe("the matrix", () => {
  const answer = matchParts(shipped(STATION), "test.yaml", {
    fuses: ["blade fuse 30 A"],
    scrs: ["SCR 50 A"],
    wires: ["6 mm2"],
    most: 1,
  });
  if (answer.kind === "refused") throw new Error("refused");

  it("shows what was not run as such, and what does not belong together with a dash", () => {
    const { fuses, scrs, all } = answer;
    const kept = fuses.map((fuse) => ({ ...fuse, checks: [] }));
    const free = scrs.map((scr) => ({ ...scr, checks: [] }));
    const waiting = all.map((each) => ({ ...each, checks: [], outcome: null }));
    const { rows, title } = matchData({
      ...answer,
      facts: { ...answer.facts, title: "" },
      fuses: kept,
      scrs: free,
      wires: answer.wires.map((wire) => ({ ...wire, checks: [] })),
      all: waiting,
    });
    expect(title).toBe("A 12 V line: which fuse with which SCR and wire?");
    expect(rows[0].withScrs.some(({ text, state }) => text === "no run" && state === "kept")).toBe(true);
    const { rows: none } = matchData({ ...answer, fuses: kept, scrs: free, all: [] });
    expect(none[0].withScrs[0]).toEqual({ state: "fell alone", text: "–" });
  });

  it.each([
    [1, /^1 more fuse is not shown; /],
    [2, /^2 more fuses are not shown; /],
  ])("says that %d more are not shown", (more, said) => {
    const [first] = answer.fuses;
    const shown = matchData({
      ...answer,
      fuses: Array.from({ length: 40 }, (_, k) => ({ ...first, name: `fuse ${k}`, checks: [], yours: false })),
    }).rows.length;
    const fuses = Array.from({ length: shown + more }, (_, k) => ({
      ...first,
      name: `fuse ${k}`,
      checks: [],
      yours: false,
    }));
    expect(matchData({ ...answer, fuses }).leftOut).toMatch(said);
  });
});
