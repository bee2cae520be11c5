import { describe, expect, it } from "vitest";
import { crowbar, line, resistor, supply } from "../support/line.ts";
import { at, ran, times, told } from "../support/run.ts";

/* A supply that hiccups into the crowbar: six milliseconds on, which fill its output capacitor in four, and five off. */
const limit = { style: "hiccup", current: 20, detectionTime: 6e-3, offTime: 5e-3, rampTime: 0 } as const;
const fault = { kind: "voltage turned up", endVoltage: 17, slew: 4000 } as const;
const hiccup = (over: Parameters<typeof crowbar>[0]) =>
  line({ endTime: 0.08, sources: [supply({ limit, fault })], crowbar: crowbar(over), loads: [resistor(6)] });
const restarts = (run: ReturnType<typeof ran>) => times(run, "restarts");

describe("an SCR across a supply that hiccups", () => {
  it("fires anew in each round where nothing drives its gate in between", () => {
    const run = ran(hiccup({}));
    expect(restarts(run).length).toBeGreaterThan(3);
    expect(run.crowbar?.firings.length).toBeGreaterThan(3);
    expect(run.crowbar?.stops.length).toBeGreaterThan(3);
    // It lets go the turn-off time after the supply has stopped feeding it, at the earliest.
    for (const stop of run.crowbar?.stops ?? []) {
      const off = times(run, "limiter trips").findLast((time) => time < stop);
      expect(stop - (off ?? Number.NaN)).toBeGreaterThan(60e-6);
    }
  });

  it("fires once where its gate is kept on, and takes the current of every restart without being tripped again", () => {
    const run = ran(hiccup({ variant: "held" }));
    expect(run.crowbar?.firings).toHaveLength(1);
    expect(run.crowbar?.stops).toEqual([]);
    const [fired = Number.NaN] = run.crowbar?.firings ?? [];
    const later = restarts(run).filter((time) => time > fired && time < 0.07);
    expect(later.length).toBeGreaterThan(3);
    for (const time of later) {
      // Before the supply comes back there is nothing to carry; soon after, all that its limit allows but the load's share of a volt.
      expect(at(run, "crowbar_A", time - 1e-4)).toBeCloseTo(0, 3);
      const carried = at(run, "crowbar_A", time + 4e-3);
      expect(carried).toBeGreaterThan(19.5);
      expect(carried).toBeLessThan(20.5);
      expect(at(run, "protected_side_V", time + 4e-3)).toBeLessThan(1.5);
    }
  });

  it("conducts without a gate once its junction has failed short", () => {
    // One restart's 20 A warm a junction without a heat sink by more than the ten kelvins that are left to it.
    const stages = [{ resistance: 2, timeConstant: 2e-4 }];
    const run = ran(hiccup({ junctionStages: stages, failTemperature: 45 }));
    const [failed = Number.NaN] = times(run, "fails short");
    expect(failed).toBeGreaterThan(0);
    expect(run.crowbar?.failedShort).toBe(true);
    expect(run.crowbar?.firings.filter((time) => time > failed)).toEqual([]);
    expect(run.crowbar?.stops.filter((time) => time > failed)).toEqual([]);
    for (const time of restarts(run).filter((each) => each > failed && each < 0.07))
      expect(at(run, "crowbar_A", time + 4e-3)).toBeGreaterThan(19.5);
    expect(told(run).filter((kind) => kind === "crowbar: fails short")).toHaveLength(1);
  });
});
