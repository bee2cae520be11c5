import { describe, expect, it } from "vitest";
import { Simulation } from "../../packages/sim/src/model/run.ts";
import type { Scenario } from "../../packages/sim/src/scenario/types.ts";
import { crowbar, fuse, line, reservoir, resistor, supply } from "../support/line.ts";
import { inside } from "../support/modes.ts";
import { anyLine, counterExample } from "../support/properties/any-line.ts";
import { DAILY, soundTrials } from "../support/properties/trials.ts";
import { jumps, witness } from "../support/properties/witness.ts";

describe("of lines of every device, option and topology", () => {
  soundTrials(DAILY);
});

describe("the witness", () => {
  const melts = line({
    endTime: 0.05,
    sources: [supply({ reservoir, fault: { kind: "shorted pass transistor", passResistance: 0.05 } })],
    mainFuse: fuse({ minimumMeltingCurrent: 20, stages: [{ weight: 1, timeConstant: 0.004 }] }),
    crowbar: crowbar(),
    loads: [resistor(2, { schedule: [{ time: 0.03, value: 4 }] })],
  });

  it("has nothing to say of a sound line in which much happens", () => {
    const { run, complaints, steps } = witness(melts);
    expect(complaints).toEqual([]);
    expect(run.events.map(({ kind }) => kind)).toEqual([
      "fault",
      "fires",
      "melts",
      "open",
      "stops conducting",
      "load changes",
    ]);
    expect(steps).toBeGreaterThan(100);
  });

  it.each<[string, Partial<Scenario>, string]>([
    ["before its voltage", { crowbar: crowbar({ tripVoltage: 25 }) }, "/crowbar: fires without its reason"],
    ["before its delay", { crowbar: crowbar({ gateDelay: 4e-6 }) }, "/crowbar: fires after 0.00000"],
    ["that its line does not have", { mainFuse: null }, "/main fuse: melts, which nothing explains"],
    ["at another time", { faultTime: 2e-3 }, "/line: fault without its reason"],
    ["that nobody has ordered", { loads: [resistor(2)] }, "radio/load: load changes without its reason"],
    [
      "while the gate is kept on",
      { crowbar: crowbar({ variant: "held" }) },
      "/crowbar: stops conducting without its reason",
    ],
  ])("sees an event %s", (_what, other, complaint) => {
    expect(witness(melts, {}, { ...melts, ...other }).complaints[0]).toContain(complaint);
  });

  it("sees a state that jumps, a current cut off in full flow, and energy that nobody counts", () => {
    const view = inside(new Simulation(melts));
    const { line: system, y, assembly } = view;
    const loss = system.jumpLoss();
    const from = (state: number, value: number) => {
      const states = Array.from(y);
      states[state] = value;
      return jumps(view, { states, loss });
    };
    const voltage = system.names.indexOf("vC2");
    expect(from(voltage, y[voltage])).toEqual([]);
    expect(from(voltage, 1)[0]).toContain("vC2 jumps from 1 to");
    const branch = assembly.crowbar!["i"];
    expect(y[branch]).toBe(0);
    const cut = from(branch, 30);
    expect(cut[0]).toBe("i_scr is cut off at 30 A");
    expect(cut[1]).toContain("J are lost in a jump, 0 J counted");
  });
});

describe("a counter-example", () => {
  it("is the simplest line that shows it, and tells what was found", () => {
    const found = counterExample(anyLine, { faults: 50, seed: 1 }, ({ clamp }) => (clamp === null ? [] : ["a clamp"]));
    expect(found).toContain("a clamp\nProperty failed");
    const simplest = JSON.parse(/Counterexample: \[(.*)\]\n/.exec(found ?? "")?.[1] ?? "null") as Scenario;
    expect(simplest.clamp).not.toBeNull();
    expect([simplest.endTime, simplest.faultTime, simplest.loads.length]).toEqual([3e-3, 0, 1]);
  });
});
