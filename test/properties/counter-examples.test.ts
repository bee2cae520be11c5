import { describe, expect, it } from "vitest";
import type { Run } from "../../packages/sim/src/model/result.ts";
import { type RunOptions, simulate } from "../../packages/sim/src/model/run.ts";
import type { Scenario } from "../../packages/sim/src/scenario/types.ts";
import { battery, crowbar, currentLoad, fuse, line, reservoir, resistor, supply } from "../support/line.ts";
import { later } from "../support/properties/scaled.ts";

/* What one would think, and what is not so: each stands with its reason in the page on properties. */

const run = (scenario: Scenario, options: RunOptions = {}): Run =>
  simulate(scenario, { record: false, leaps: false, ...options });

describe("a fuse with a larger melting I²t", () => {
  const behind = (minimumMeltingCurrent: number, resistanceRatio: number) =>
    run(
      line({
        endTime: 2,
        sources: [
          supply({ limit: { style: "none" }, fault: { kind: "voltage turned up", endVoltage: 15.7, slew: 1000 } }),
        ],
        mainFuse: fuse({
          coldResistance: 0.02,
          resistanceRatio,
          minimumMeltingCurrent,
          stages: [{ weight: 1, timeConstant: 0.05 }],
        }),
        crowbar: crowbar({ tripVoltage: 14.8 }),
        loads: [currentLoad(20)],
      }),
    ).fuses[0].meltTime;

  it("melts although the smaller one does not: warm, the smaller one drops so much that the crowbar never fires", () => {
    expect(behind(24, 2)).toBeNull();
    expect(behind(30, 2)).toBeCloseTo(3.6e-3, 4);
  });

  it("does not where its resistance stays what it is", () => {
    expect(behind(24, 1)).toBeCloseTo(0.0033, 3);
    expect(behind(30, 1)).toBeGreaterThan(behind(24, 1) ?? 0);
  });
});

it("a slower sense filter fires where the fast one never does: it follows the mean, the fast one the valleys of the ripple", () => {
  const firings = (senseTimeConstant: number) =>
    run(
      line({
        endTime: 0.5,
        sources: [
          supply({
            limit: { style: "none" },
            outputCapacitance: 5e-4,
            reservoir: { ...reservoir, ripple: true, rawVoltage: 24, capacitance: 0.01 },
            fault: { kind: "shorted pass transistor", passResistance: 0.05 },
          }),
        ],
        // Longer than a half-wave of the mains.
        crowbar: crowbar({ tripVoltage: 17, senseTimeConstant, gateDelay: 0.012 }),
        loads: [resistor(2.5)],
      }),
    ).crowbar?.firings;
  expect(firings(1e-5)).toEqual([]);
  expect(firings(0.05)?.[0]).toBeCloseTo(0.0913, 3);
});

it("a line with a battery that is charged is not the same later: its EMF has moved", () => {
  const charged = line({
    faultTime: 1e-3,
    endTime: 2e-3,
    sources: [supply({ limit: { style: "none" } }), battery({ capacityAh: 2 })],
  });
  const [now, then] = [charged, later(charged, 600)].map((scenario) => run(scenario));
  expect(now.operatingPoint).toEqual(then.operatingPoint);
  expect(then.atEnd.battery_V - now.atEnd.battery_V).toBeGreaterThan(0.01);
});
