import { describe, expect, it } from "vitest";
import { battery, crowbar, currentLoad, fuse, lead, line, reservoir, resistor, supply } from "../support/line.ts";
import { last, ran, times, told } from "../support/run.ts";

const raised = (endVoltage: number, slew = 5000) => ({ kind: "voltage turned up", endVoltage, slew }) as const;
const unlimited = { style: "none" } as const;

describe("a resistance in the crowbar's branch, outside the junction", () => {
  const run = (stubResistance: number) =>
    ran(
      line({
        endTime: 0.05,
        sources: [supply({ limit: unlimited, fault: raised(17) })],
        crowbar: crowbar({ stubResistance }),
        loads: [resistor(1e5)],
      }),
    );
  const [with20, without] = [run(0.02), run(0)];
  const steady = (stub: number) => (17 - 0.9) / (0.01 + 0.01 + 0.006 + stub);
  const current = (made: typeof with20) =>
    last(made.trace.columns.find(({ name }) => name === "crowbar_A")?.values ?? []);

  it("limits the current as one more resistance of the loop", () => {
    expect(Math.abs(current(without) / steady(0) - 1)).toBeLessThan(1e-4);
    expect(Math.abs(current(with20) / steady(0.02) - 1)).toBeLessThan(1e-4);
    expect(with20.crowbar?.peakCurrent.value).toBeLessThan(0.7 * (without.crowbar?.peakCurrent.value ?? 0));
  });

  it("takes its own share of the heat, not the junction's", () => {
    const { totalI2t = 0, junctionEnergy = 0 } = with20.crowbar ?? {};
    const leak = 1e-6 * 0.05 * 17 ** 2;
    expect(Math.abs(with20.energy.byDevice.crowbar - junctionEnergy - 0.02 * totalI2t)).toBeLessThan(2 * leak);
  });
});

describe("a latching current", () => {
  // A bench supply of 0.1 A behind 100 ohm of stub: more than the holding current, less than the latching one.
  const bench = (latchingCurrent: number, endTime: number) =>
    ran(
      line({
        endTime,
        sources: [
          supply({ limit: { style: "constant current", current: 0.1 }, fault: raised(17), outputCapacitance: 1e-3 }),
        ],
        crowbar: crowbar({ stubResistance: 100, latchingCurrent, holdingCurrent: 0.08 }),
        loads: [resistor(1e5)],
      }),
    );

  it("not reached: the SCR is tripped again and again but never holds", () => {
    const run = bench(0.2, 0.05);
    const firings = run.crowbar?.firings ?? [];
    expect(firings.length).toBeGreaterThan(20);
    expect(run.crowbar?.stops.length).toBeGreaterThan(20);
    expect(run.crowbar?.peakCurrent.value).toBeLessThan(0.2);
    // Each firing ends the turn-off time after the sensed voltage has fallen back below the trip point.
    for (const [k, stop] of (run.crowbar?.stops ?? []).entries()) expect(stop - firings[k]).toBeGreaterThan(60e-6);
  });

  it("none: the same supply holds it for good with its holding current alone", () => {
    const run = bench(0, 4);
    expect(run.crowbar?.firings).toHaveLength(1);
    expect(run.crowbar?.conductingAtEnd).toBe(true);
    // At ten volts the bleeder takes 10 mA of the 0.1 A.
    expect(last(run.trace.columns.find(({ name }) => name === "crowbar_A")?.values ?? [])).toBeCloseTo(0.1 - 0.01, 3);
  });

  it("reached once: from then on the holding current decides", () => {
    // The dump of C2 through the bare SCR passes 0.2 A at once; 0.1 A from the supply then holds it.
    const run = ran(
      line({
        endTime: 0.5,
        sources: [supply({ limit: { style: "constant current", current: 0.1 }, fault: raised(17) })],
        crowbar: crowbar({ latchingCurrent: 0.2, holdingCurrent: 0.08 }),
        loads: [resistor(1e5)],
      }),
    );
    expect(run.crowbar?.firings).toHaveLength(1);
    expect(run.crowbar?.conductingAtEnd).toBe(true);
  });
});

describe("a supply's own crowbar across its terminals", () => {
  const own = crowbar({ tripVoltage: 16, label: "own SCR" });

  it("fires on the terminal voltage, says whose it is, and carries the limiter's current", () => {
    const run = ran(
      line({
        endTime: 0.2,
        sources: [supply({ ownCrowbar: own, fault: { kind: "lost feedback", ceilingVoltage: 20, slew: 5000 } })],
        crowbar: crowbar({ tripVoltage: 19 }),
        loads: [currentLoad(5)],
      }),
    );
    expect(told(run)).toEqual(["line: fault", "supply: fires"]);
    expect(run.events[1].subject).toEqual({ part: "own crowbar", owner: "supply" });
    const [{ source, findings }] = run.ownCrowbars;
    expect(source).toBe("supply");
    expect(findings.conductingAtEnd).toBe(true);
    expect(run.crowbar?.firings).toEqual([]);
    const carried = last(run.trace.columns.find(({ name }) => name === "supply_own_crowbar_A")?.values ?? []);
    // At V_T0 + 25 A·6 mohm the current load has become a resistor of 8.28 V/5 A.
    expect(Math.abs(carried - (25 - (0.9 + 0.006 * 25) / (8.28 / 5 + 0.02)))).toBeLessThan(0.1);
  });

  it("works although the regulator is gone", () => {
    const run = ran(
      line({
        endTime: 0.2,
        sources: [
          supply({ ownCrowbar: own, reservoir, fault: { kind: "shorted pass transistor", passResistance: 0.05 } }),
        ],
      }),
    );
    expect(told(run)).toEqual(["line: fault", "supply: fires"]);
    const carried = last(run.trace.columns.find(({ name }) => name === "supply_own_crowbar_A")?.values ?? []);
    const open = reservoir.rawVoltage - 0.9;
    expect(Math.abs(carried / (open / (reservoir.rawResistance + 0.05 + 0.006)) - 1)).toBeLessThan(0.02);
  });
});

describe("lost feedback and the supply's own shutdown", () => {
  const limit = { style: "hiccup", current: 40, detectionTime: 2e-3, offTime: 5e-3, rampTime: 10e-3 } as const;
  const run = (worksOnLostFeedback: boolean, limited = limit) =>
    ran(
      line({
        endTime: 0.2,
        sources: [
          supply({
            limit: limited,
            shutdown: { voltage: 15, delay: 1e-4, worksOnLostFeedback },
            fault: { kind: "lost feedback", ceilingVoltage: 18, slew: 5000 },
          }),
        ],
        // A load that overloads it once, so that it stops and restarts after the feedback was lost.
        loads: [
          resistor(3, {
            schedule: [
              { time: 5e-3, value: 0.1 },
              { time: 9e-3, value: 3 },
            ],
          }),
        ],
      }),
    );

  it("a shutdown that lost its feedback stays blind after a restart", () => {
    const kinds = told(run(false));
    expect(kinds).toContain("supply: restarts");
    expect(kinds).not.toContain("supply: over-voltage shutdown");
  });

  it("one that keeps its own feedback shuts a hiccup supply down again and again", () => {
    expect(told(run(true)).filter((kind) => kind === "supply: over-voltage shutdown").length).toBeGreaterThan(3);
  });
});

describe("a fuse that is kept from clearing", () => {
  const scenario = line({
    endTime: 1,
    sources: [battery({ emf: 14.5 }), supply({ limit: unlimited, fault: raised(17) })],
    mainFuse: fuse({ minimumMeltingCurrent: 60, stages: [{ weight: 1, timeConstant: 0.02 }] }),
    crowbar: crowbar(),
    loads: [resistor(10)],
  });
  const normal = ran(scenario);
  const prospective = ran(scenario, { unclearing: { part: "main fuse", owner: "" } });

  it("melts in the run itself", () => {
    expect(told(normal)).toContain("main fuse: melts");
    expect(told(normal)).toContain("main fuse: open");
  });

  it("goes on as a conductor at its melting resistance and shows the available current", () => {
    expect(times(prospective, "melts")).toEqual([]);
    expect(prospective.fuses[0].state).toBe("intact");
    expect(prospective.crowbar?.conductingAtEnd).toBe(true);
    // Thévenin of battery and supply behind their leads, then the hot fuse and the SCR.
    const [g1, g2] = [1 / (0.005 + 0.01), 1 / (0.01 + 0.01)];
    const [v, r] = [(14.5 * g1 + 17 * g2) / (g1 + g2), 1 / (g1 + g2)];
    const steady = (v - 0.9) / (r + 0.0025 * 1.6 + 0.006);
    const found = last(prospective.trace.columns.find(({ name }) => name === "main_fuse_A")?.values ?? []);
    expect(Math.abs(found / steady - 1)).toBeLessThan(1e-3);
    expect(prospective.fuses[0].peakCurrent).toBeGreaterThan(steady * 0.999);
    expect(prospective.fuses[0].peakCurrent).toBeGreaterThanOrEqual(normal.fuses[0].peakCurrent * (1 - 1e-4));
  });

  it("in a load's lead too", () => {
    const run = ran(
      line({
        endTime: 0.5,
        loads: [
          resistor(1, {
            lead: lead({ fuse: fuse({ minimumMeltingCurrent: 16, stages: [{ weight: 1, timeConstant: 0.05 }] }) }),
            schedule: [{ time: 0.01, value: 0.6 }],
          }),
        ],
      }),
      { unclearing: { part: "in-line fuse", owner: "radio" } },
    );
    expect(told(run)).toEqual(["line: fault", "radio: load changes"]);
    expect(run.fuses[0].peakTheta).toBe(1);
  });
});
