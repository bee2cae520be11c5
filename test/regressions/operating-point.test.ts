import { describe, expect, it } from "vitest";
import { simulate } from "../../packages/sim/src/model/run.ts";
import type { Scenario } from "../../packages/sim/src/scenario/types.ts";
import {
  battery,
  clamp,
  crowbar,
  currentLoad,
  fuse,
  lead,
  line,
  panel,
  powerLoad,
  reservoir,
  resistor,
  supply,
} from "../support/line.ts";
import { ran, told } from "../support/run.ts";

/** Codes with which a scenario is refused; empty where it runs. */
function refusals(scenario: Scenario): string[] {
  try {
    simulate(scenario, { until: 0 });
    return [];
  } catch (error) {
    return (error as { issues: { code: string }[] }).issues.map(({ code }) => code);
  }
}

describe("the search for the healthy point", () => {
  it("finds it though a fold back would catch the line far below: a small capacitor, a heavy resistor", () => {
    const foldback = { style: "foldback", current: 30.8, shortCircuitCurrent: 5 } as const;
    const source = supply({ setVoltage: 12.77, limit: foldback, responseTime: 2e-4, outputCapacitance: 2e-4 });
    const load = resistor(1.083, { inputCapacitance: 5.3e-6, lead: lead({ inductance: 5e-6 }) });
    const run = ran(line({ sources: [source], loads: [load] }));
    // Volts over everything in series: regulator, its lead, the load's lead and the load.
    expect(run.operatingPoint["radio.i"]).toBeCloseTo(12.77 / (0.01 + 0.01 + 0.01 + 1.083), 2);
  });

  it("does so with every limit, at twenty sizes of capacitors and leads", () => {
    const limits = [
      { style: "foldback", current: 20, shortCircuitCurrent: 2 },
      { style: "constant current", current: 20 },
      { style: "hiccup", current: 20, detectionTime: 1e-3, offTime: 0.01, rampTime: 0 },
    ] as const;
    for (let k = 0; k < 20; k++) {
      const C = 1e-6 * 10 ** (k / 5);
      const source = supply({
        limit: limits[k % 3],
        outputCapacitance: 1e-4 * 10 ** ((k % 7) / 4),
        responseTime: 1e-4,
      });
      const load = powerLoad(200, { inputCapacitance: C, lead: lead({ inductance: 1e-8 * 10 ** (k / 7) }) });
      expect(refusals(line({ sources: [source], loads: [load] }))).toEqual([]);
    }
  });

  it("finds it where a diode leaves a panel's capacitor without any rate", () => {
    const source = panel({ diode: { forwardVoltage: 0.4, resistance: 0.01 }, fault: { kind: "none" } });
    expect(refusals(line({ sources: [supply(), source], mainFuse: fuse(), loads: [resistor(3)] }))).toEqual([]);
  });

  it("still refuses a target above the limit or the drop-out bound", () => {
    expect(refusals(line({ loads: [currentLoad(30)] }))).toEqual(["overloaded-at-rest"]);
    const weak = supply({ reservoir: { ...reservoir, rawVoltage: 15 } });
    expect(refusals(line({ sources: [weak], loads: [currentLoad(10)] }))).toEqual(["overloaded-at-rest"]);
  });
});

describe("what is said of a line without one", () => {
  it("names the fuse that melts in service, however far above melting, warm or cold", () => {
    for (const minimumMeltingCurrent of [6, 4, 3, 2, 0.1]) {
      for (const start of ["warm", "cold"] as const) {
        const part = fuse({ minimumMeltingCurrent, start });
        expect(refusals(line({ mainFuse: part }))).toEqual(["melts-at-rest"]);
        expect(refusals(line({ loads: [resistor(2, { lead: lead({ fuse: part }) })] }))).toEqual(["melts-at-rest"]);
      }
    }
  });

  it("refuses a supply's own crowbar that trips at rest", () => {
    const source = supply({ ownCrowbar: crowbar({ tripVoltage: 13.7 }) });
    expect(refusals(line({ sources: [source] }))).toEqual(["trips-at-rest"]);
  });
});

describe("lines that do have one", () => {
  it("a clamp that conducts at rest counts its energy from the start and fails when it has taken its rating", () => {
    const part = clamp({
      breakdownVoltage: 13,
      slopeResistance: 0.2,
      ratings: { energy: 2, peakCurrent: 70, temperature: 150 },
    });
    const run = ran(
      line({ endTime: 0.2, faultTime: 0, sources: [battery({ emf: 13.8 })], clamp: part, loads: [resistor(20)] }),
    );
    // About 3.4 A at 13.7 V from the start.
    const power = run.clamp?.failTime ? 2 / run.clamp.failTime : 0;
    const v = run.operatingPoint.vC2;
    expect(power).toBeCloseTo((v * (v - 13)) / 0.2, 2);
  });

  it("a load that is not plugged in yet is not starved", () => {
    const contact = {
      resistance: 1e-3,
      arcVoltage: 15,
      extinctionCurrent: 0.1,
      initially: "open",
      operations: [{ time: 2e-3, action: "close" }],
    } as const;
    const run = ran(line({ loads: [powerLoad(60, { lead: lead({ contact }) })] }));
    expect(told(run)).toEqual(["line: fault", "radio: contact closes"]);
  });
});
