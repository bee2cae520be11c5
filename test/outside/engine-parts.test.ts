import { describe, expect, it } from "vitest";
import { Simulation } from "../../packages/sim/src/model/run.ts";
import type { Fuse } from "../../packages/sim/src/scenario/types.ts";
import {
  battery,
  crowbar,
  currentLoad,
  fuse,
  lampLoad,
  lead,
  line,
  reservoir,
  resistor,
  supply,
} from "../support/line.ts";
import { inside } from "../support/modes.ts";
import { last, ran, sampled, times } from "../support/run.ts";

const raised = (endVoltage: number, slew: number) => ({ kind: "voltage turned up", endVoltage, slew }) as const;

/** A fuse in the lead of a load that draws a set current from t = 1 ms on, cold until then. */
function meltedBy(current: number, part: Partial<Fuse>, endTime: number) {
  return ran(
    line({
      endTime,
      sources: [battery({ emf: 60, capacityAh: 1e6 })],
      loads: [
        currentLoad(0, {
          lead: lead({ fuse: fuse({ ...part, start: "cold", arcVoltage: 80 }) }),
          inputCapacitance: 1e-6,
          schedule: [{ time: 1e-3, value: current }],
        }),
      ],
    }),
    { tolerance: "tight" },
  );
}

describe("a fuse against the closed forms of its thermal model (one stage: heat balance of a wire, no source beyond it)", () => {
  // t_melt = −tau·ln(1 − (I_inf/I)²) for a resistance that does not change.
  it.each([35, 60, 150, 600])("melts at %i A after −tau·ln(1 − (I_inf/I)²)", (current) => {
    const [tau, least] = [0.9, 30];
    const expected = -tau * Math.log(1 - (least / current) ** 2);
    const run = meltedBy(current, { resistanceRatio: 1, minimumMeltingCurrent: least }, 2 * expected + 0.01);
    const [melts] = times(run, "melts");
    expect(Math.abs((melts - 1e-3) / expected - 1)).toBeLessThan(2e-3 * (current === 600 ? 5 : 1));
  });

  // Melting I²t at very large current: I_inf²·tau·k·ln(k)/(k − 1).
  it.each([1.01, 1.3, 1.6, 2.2])("k = %f: the melting I²t at forty times I_inf is I_inf²·tau·k·ln(k)/(k − 1)", (k) => {
    const run = meltedBy(
      1200,
      { resistanceRatio: k, minimumMeltingCurrent: 30, stages: [{ weight: 1, timeConstant: 0.9 }] },
      0.01,
    );
    const expected = (30 ** 2 * 0.9 * k * Math.log(k)) / (k - 1);
    expect(Math.abs((run.fuses[0].meltingI2t ?? 0) / expected - 1)).toBeLessThan(1e-3);
  });

  it("two stages: 1/tau_a = Σ w/tau stands in for 1/tau", () => {
    const stages = [
      { weight: 0.7, timeConstant: 0.2 },
      { weight: 0.3, timeConstant: 5 },
    ];
    const run = meltedBy(1200, { resistanceRatio: 1.6, minimumMeltingCurrent: 30, stages }, 0.01);
    const tau = 1 / (0.7 / 0.2 + 0.3 / 5);
    const expected = (30 ** 2 * tau * 1.6 * Math.log(1.6)) / 0.6;
    expect(Math.abs((run.fuses[0].meltingI2t ?? 0) / expected - 1)).toBeLessThan(2e-3);
  });

  it("just below its least melting current it comes to rest at x/(k − x·(k − 1)) and holds", () => {
    const run = meltedBy(
      29,
      { resistanceRatio: 1.6, minimumMeltingCurrent: 30, stages: [{ weight: 1, timeConstant: 0.05 }] },
      5,
    );
    const x = (29 / 30) ** 2;
    expect(run.fuses[0].state).toBe("intact");
    expect(Math.abs(run.fuses[0].peakTheta - x / (1.6 - 0.6 * x))).toBeLessThan(1e-3);
  });
});

describe("an incandescent lamp", () => {
  // Source: lamp re-rating formulas of the makers: current goes with voltage to the power of 0.55.
  it("its steady current between 10 and 16 V follows V^0.55 within 3 %", () => {
    const current = (emf: number) => {
      const { lamp_A, lamp_V } = sampled(
        line({
          endTime: 2,
          sources: [battery({ emf, capacityAh: 1e6 })],
          loads: [lampLoad(50, { name: "lamp" })],
        }),
        1.9,
      );
      return { i: lamp_A, v: lamp_V };
    };
    const base = current(12);
    for (const emf of [10, 11, 13, 14, 15, 16]) {
      const { i, v } = current(emf);
      expect(Math.abs(i / (base.i * (v / base.v) ** 0.55) - 1)).toBeLessThan(0.03);
    }
  });
});

describe("the junction's Foster ladder (semiconductor application notes: T = Σ R_k·P·(1 − exp(−t/tau_k)))", () => {
  it("answers a constant power with its step response", () => {
    // A limiter holds 20 A in the SCR; the dump of the capacitors before is small beside it.
    const run = ran(
      line({
        endTime: 1.5,
        sources: [
          supply({
            limit: { style: "constant current", current: 20 },
            outputCapacitance: 1e-5,
            fault: raised(16, 5000),
          }),
        ],
        crowbar: crowbar(),
        loads: [resistor(1e5, { inputCapacitance: 1e-6 })],
      }),
      { samples: [2e-3, 0.02, 0.3, 1.4].map((delay) => ({ event: 1, delay })) },
    );
    const power = (0.9 + 0.006 * 20) * 20;
    const stages = [
      [0.2, 0.001],
      [0.3, 0.1],
      [5, 100],
    ] as const;
    for (const { delay, values } of run.samples) {
      const rise = stages.reduce((sum, [R, tau]) => sum + R * power * (1 - Math.exp(-delay / tau)), 0);
      expect(Math.abs((values.crowbar_junction_degC - 25) / rise - 1)).toBeLessThan(0.015);
    }
  });
});

describe("capacitors", () => {
  // Energy of the dump: ∫i²dt = (V − V_T0)²·C/(2R) for an RC discharge against a constant voltage (reference formula, computed).
  it("dumped into a crowbar put I²t ≈ (V − V_T0)²·C/2R through it", () => {
    const [C, esr] = [0.01, 0.04];
    const run = ran(
      line({
        endTime: 0.02,
        // Latches off at once, so that only the capacitor feeds the SCR.
        sources: [
          supply({
            limit: { style: "latch off", current: 5, detectionTime: 1e-5 },
            outputCapacitance: C,
            esr,
            lead: lead({ resistance: 0.06, inductance: 2e-7 }),
            fault: raised(15.4, 300),
          }),
        ],
        crowbar: crowbar({ holdingCurrent: 0.01 }),
        loads: [resistor(1e4, { inputCapacitance: 1e-7 })],
      }),
    );
    const [firing] = run.crowbar?.firings ?? [];
    expect(firing).toBeGreaterThan(0);
    const R = esr + 0.06 + 0.006;
    const expected = ((15 - 0.9) ** 2 * C) / (2 * R);
    expect(Math.abs((run.crowbar?.totalI2t ?? 0) / expected - 1)).toBeLessThan(0.02);
  });

  // Source: reservoir rule of thumb (supply design texts): 20 A from 60 mF for 10 ms takes 3.33 V.
  it("a reservoir of 60 mF falls by 3.33 V under 20 A in the 10 ms of a lost half-wave", () => {
    const simulation = new Simulation(
      line({
        faultTime: 0.05,
        endTime: 0.06,
        sources: [
          supply({
            setVoltage: 10,
            limit: { style: "constant current", current: 25 },
            reservoir: {
              ...reservoir,
              rawVoltage: 24,
              rawResistance: 0.05,
              capacitance: 0.06,
              ripple: true,
              mainsFrequency: 50,
            },
          }),
        ],
        loads: [currentLoad(20, { lead: lead({ resistance: 0.001 }) })],
      }),
    );
    const { assembly, y } = inside(simulation);
    const part = assembly.sources[0].reservoir;
    if (!part) throw new Error("no reservoir");
    // While the rectifier is idle the reservoir falls along a straight line.
    const falls: { time: number; voltage: number }[][] = [[]];
    while (simulation.advance(1) === "running") {
      if (part["charging"]) {
        if (last(falls).length > 0) falls.push([]);
      } else last(falls).push({ time: simulation.time, voltage: y[part.state] });
    }
    const longest = falls.reduce((a, b) => (b.length > a.length ? b : a));
    const [first, end] = [longest[0], last(longest)];
    expect(longest.length).toBeGreaterThan(4);
    const fall = ((first.voltage - end.voltage) / (end.time - first.time)) * 0.01;
    expect(Math.abs(fall / 3.33 - 1)).toBeLessThan(3e-3);
  });
});

describe("exact counts of repeated tripping", () => {
  it("a hiccup supply fires the crowbar once per restart, never twice, and says as many trips, restarts and stops", () => {
    const [offTime, rampTime] = [0.05, 0.02];
    const run = ran(
      line({
        endTime: 2,
        sources: [
          supply({
            limit: { style: "hiccup", current: 40, detectionTime: 1e-3, offTime, rampTime },
            fault: raised(17, 2000),
          }),
        ],
        crowbar: crowbar(),
      }),
    );
    const count = (kind: Parameters<typeof times>[1]) => times(run, kind).length;
    const firings = run.crowbar?.firings ?? [];
    expect(count("fires")).toBe(firings.length);
    expect(Math.abs(count("limiter trips") - firings.length)).toBeLessThanOrEqual(1);
    expect(count("restarts")).toBe(firings.length - (last(firings) > last(times(run, "restarts")) ? 1 : 0));
    const period = run.crowbar?.cycling?.period ?? 0;
    expect(Math.abs(firings.length - (1 + Math.floor((2 - firings[1]) / period) + 1))).toBeLessThanOrEqual(0);
    for (let k = 2; k < firings.length; k++)
      expect(Math.abs(firings[k] - firings[k - 1] - period)).toBeLessThan(1e-4 * period);
  });
});
