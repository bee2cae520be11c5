import { describe, expect, it } from "vitest";
import type { Scenario } from "../../packages/sim/src/scenario/types.ts";
import { junctionPeaks } from "../../packages/sim/src/verdict/junction-peaks.ts";
import { crowbar, line, powerLoad, supply } from "../support/line.ts";
import { ran } from "../support/run.ts";

/** A supply that trips for ever and warms the SCR's heat sink meanwhile. */
function endless(endTime: number): Scenario {
  const limit = { style: "hiccup", current: 40, detectionTime: 20e-3, offTime: 0.1, rampTime: 10e-3 } as const;
  const fault = { kind: "lost feedback", ceilingVoltage: 18, slew: 4000 } as const;
  const bar = crowbar({ slopeResistance: 0.012, caseToAmbient: 20, caseHeatCapacity: 5 });
  return line({ endTime, sources: [supply({ limit, fault })], crowbar: bar, loads: [powerLoad(20)] });
}

describe("the long run of repeated tripping", () => {
  it("says when the peaks of the junction pass its limit, as the long simulation does; the mean passes it twice as late", () => {
    const estimate = ran(endless(3)).crowbar;
    const { longRun } = estimate?.cycling ?? {};
    const at = (estimate?.firings.at(-1) ?? 0) + (longRun?.timeToPeakLimit ?? Number.NaN);
    const mean = (estimate?.firings.at(-1) ?? 0) + (longRun?.timeToJunctionLimit ?? Number.NaN);
    const before = ran(endless(0.97 * at), { record: false }).crowbar;
    const after = ran(endless(1.03 * at), { record: false }).crowbar;
    expect(before?.peakTemperature.value).toBeLessThan(125);
    expect(after?.peakTemperature.value).toBeGreaterThan(125);
    expect(mean / at).toBeGreaterThan(2);
  });

  it("tells it in words", () => {
    const estimate = {
      meanPower: 1,
      timeToJunctionLimit: null,
      fuses: [],
      clamps: [],
      leads: [],
      restTemperature: 100,
    };
    const told = (swing: number, timeToPeakLimit: number | null) =>
      junctionPeaks({ ...estimate, swing, timeToPeakLimit }, "125 °C", (time) => `${time} s after the fault`);
    expect(told(0.5, null)).toEqual([]);
    expect(told(10, null)[0]).toMatch(/about 10 K above that average: its peaks settle at 110 °C, below the limit\.$/);
    expect(told(30, 7)[0]).toMatch(/its peaks pass the limit of 125 °C about 7 s after the fault\.$/);
    expect(told(60, 0)[0]).toMatch(/already in this run\.$/);
  });
});

describe("the energy balance", () => {
  it("of a line in which nothing flows is not taken as open", () => {
    const contact = {
      resistance: 1e-3,
      arcVoltage: 15,
      extinctionCurrent: 0.1,
      initially: "open",
      operations: [],
    } as const;
    const base = endless(0.68);
    const [load] = base.loads;
    const idle = { ...load, lead: { ...load.lead, contact } };
    ran({ ...base, sources: [supply()], loads: [idle] });
  });
});
