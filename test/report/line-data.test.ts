import { describe, expect, test } from "vitest";
import type { Run } from "../../packages/sim/src/model/result.ts";
import { type LineDiagramChoice, lineDiagramData } from "../../packages/sim/src/report/line-data.ts";
import { stateRows } from "../../packages/sim/src/report/state-rows.ts";
import { changeText, parseScenario } from "../../packages/sim/src/scenario/index.ts";
import type { Scenario } from "../../packages/sim/src/scenario/types.ts";
import { station } from "../cli/launch.ts";
import { event, fuseFound, run, trace } from "../verdict/fixtures.ts";
import { clamp, lead, radio, supply } from "../verdict/parts.ts";

type Change = readonly [path: Parameters<typeof changeText>[1], value: string | null];

/** The line of the small station with changes, as it is drawn. */
function drawn(changes: readonly Change[] = [], choice: LineDiagramChoice = {}) {
  const text = changes.reduce((so, [path, value]) => changeText(so, path, value), station());
  return lineDiagramData(parseScenario(text, "station.yaml"), choice);
}

describe("the line of a file", () => {
  test("is titled as the file is, and as is asked for", () => {
    expect(drawn()).toMatchObject({ title: "Small station" });
    expect(drawn()).not.toHaveProperty("facts");
    expect(drawn([], { title: "Ours", facts: "Radio safe" })).toMatchObject({ title: "Ours", facts: "Radio safe" });
  });

  test("with errors is none", () => {
    expect(() => drawn([[["ambient"], "warm"]])).toThrow(
      new RangeError("the scenario has errors: there is no line to be drawn"),
    );
  });

  test("says of a supply what limits it, or that nothing does", () => {
    const details = (limit: string) => drawn([[["sources", 0, "limit"], limit]]).sources[0].part.details;
    expect(details("{style: constant current, current: 22 A}")).toContain("13.8 V, constant current at 22 A");
    expect(details("{style: none}")).toContain("13.8 V, no current limit");
  });

  test.each([
    ["{length: 1 m, gauge: 12 AWG}", "1 m, 12\u00a0AWG"],
    ["{length: 2 m, area: 4 mm2}", "2 m, 4\u00a0mm²"],
    // Measured, so that nobody need know how long it is.
    ["{resistance: 10 mohm, inductance: 1 uH, area: 4 mm2}", "10 mΩ, 4\u00a0mm²"],
  ])("says how long and how thick a lead is: %s", (written, words) => {
    expect(drawn([[["loads", 0, "lead"], written]]).loads[0].lead).toBe(words);
  });

  test("calls a load without a part class by its kind", () => {
    const own =
      "{name: fan, kind: constant current, current: 2 A, input capacitance: 1 mF, esr: 10 mohm, limits: {minimum: 11 V, maximum: 20 V}, lead: {length: 1 m, area: 4 mm2}}";
    expect(JSON.stringify(drawn([[["loads", 0], own]]).loads[0])).toContain("constant current");
    expect(JSON.stringify(drawn().loads[0])).toContain("100 W radio");
  });

  test("has a load's own clamp beside the load", () => {
    expect(drawn().loads[0].across).toEqual([]);
    const [across] = drawn([[["loads", 0, "clamp"], "clamp diode 1500 W, 18 V"]]).loads[0].across;
    expect(across).toMatchObject({ kind: "clamp", name: "clamp" });
  });
});

/** The station's words around a hand-made run. */
const shown = (made: Run, time: number) => drawn([], { run: made, time });

describe("the line at an instant of a run", () => {
  test("shows what meters show, and nothing of what was not recorded", () => {
    const recorded = trace([0, 0.1, 0.1, 0.3], { radio_V: [13.5, 13.5, 17, 17], supply_V: [13.8, 13.8, 120, 120] });
    const made = run({ trace: recorded });
    expect(shown(made, 0.05).loads[0].part.reading).toBe("13.5 V");
    expect(shown(made, 0.1).loads[0].part.reading).toBe("17.0 V");
    expect(shown(made, 0.2).sources[0].part.reading).toBe("120 V");
    expect(shown(made, 0.2).readings).toEqual({ supplySide: null, protectedSide: null, radioSide: null });
    expect(shown(made, 0.2).mainFuse?.reading).toBeNull();
  });

  test("is refused before the start and after the end; a run at rest lasts to the end of its scenario", () => {
    const made = run({ trace: trace([0, 0.2], { radio_V: [13, 13] }) }, { endTime: 0.3 });
    expect(shown(made, 0.3).loads[0].part.reading).toBe("13.0 V");
    for (const time of [-0.1, 0.31, Number.NaN])
      expect(() => shown(made, time)).toThrow(`the time is ${time} s, allowed: from 0 to 0.3 s`);
  });
});

describe("the states of devices", () => {
  const statesOf = (label: string, over: Partial<Run>, scenario: Partial<Scenario> = {}) =>
    stateRows(run(over, scenario))
      .find((row) => row.label === label)
      ?.spans.map(({ from, to, tag }) => [from, to, tag]);

  test("of a load's own clamp follow its current, until it fails", () => {
    const recorded = trace([0, 0.1, 0.2, 0.25, 0.3], { radio_clamp_A: [0, 0, 5, 0, 0] });
    const loads: Scenario["loads"] = [{ ...radio, clamp }];
    expect(statesOf("radio clamp", { trace: recorded }, { loads })).toEqual([
      [0, 0.1, "blocking"],
      [0.1, 0.25, "conducting"],
      [0.25, 0.3, "blocking"],
    ]);
    const events = [event(0.2, 0.2, "fails short", "load clamp", "", "radio")];
    const shorted = trace([0, 0.1, 0.2, 0.25, 0.3], { radio_clamp_A: [0, 0, 5, 80, 80] });
    expect(statesOf("radio clamp", { trace: shorted, events }, { loads })).toEqual([
      [0, 0.2, "blocking"],
      [0.2, 0.3, "failed short"],
    ]);
    expect(statesOf("radio clamp", { trace: trace([0, 0.3], {}) }, { loads })).toEqual([[0, 0.3, "blocking"]]);
  });

  test("leave out what lasted for no time, and go on where the same state comes back at once", () => {
    const events = [
      event(0.1, 0.1, "fires", "crowbar"),
      event(0.2, 0.1, "stops conducting", "crowbar"),
      event(0.2, 0, "fires", "crowbar"),
    ];
    expect(statesOf("SCR", { events })).toEqual([
      [0, 0.1, "blocking"],
      [0.1, 0.3, "conducting"],
    ]);
    const straight = [event(0, 0, "fires", "crowbar"), event(0.1, 0.1, "fails short", "crowbar")];
    expect(statesOf("SCR", { events: straight })).toEqual([
      [0, 0.1, "conducting"],
      [0.1, 0.3, "failed short"],
    ]);
  });

  test("of a fuse that melts go from intact over heating and clearing to open", () => {
    const fuses = [fuseFound({ overloadTime: 0.05, meltTime: 0.1, openTime: 0.15 })];
    expect(statesOf("main fuse", { fuses })?.map(([, , tag]) => tag)).toEqual([
      "intact",
      "heating",
      "clearing",
      "open",
    ]);
    expect(statesOf("main fuse", { fuses: [fuseFound({ overloadTime: 0.05 })] })).toEqual([[0, 0.3, "intact"]]);
  });

  test("of a panel are its controller's: it blocks, and is shorted from the fault on where it has one", () => {
    const panel = (kind: "none" | "shorted controller"): Scenario["sources"] => [
      {
        kind: "panel",
        name: "roof",
        lead,
        diode: null,
        shortCircuitCurrent: 5,
        openCircuitVoltage: 22,
        kneeVoltage: 1,
        outputCapacitance: 1e-4,
        esr: 0.1,
        fault: { kind },
      },
    ];
    expect(statesOf("roof", {}, { sources: panel("none") })).toEqual([[0, 0.3, "controller blocks"]]);
    expect(statesOf("roof", {}, { sources: panel("shorted controller") })).toEqual([
      [0, 0.001, "controller blocks"],
      [0.001, 0.3, "controller shorted"],
    ]);
  });

  test("of a supply are not told where its state was not recorded", () => {
    expect(statesOf("supply", {}, { sources: [supply] })).toBeUndefined();
  });
});
