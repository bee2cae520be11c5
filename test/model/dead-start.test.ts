import { describe, expect, it } from "vitest";
import { battery, lead, line, reservoir, resistor, supply } from "../support/line.ts";
import { at, last, ran, sampled, told } from "../support/run.ts";

/** Hardly any capacitor on the line itself: what rings is the leads with the load's input. */
const bare = { capacitance: 1e-9, resistance: 1 };
const nodes = { supplySide: bare, protectedSide: bare, radioSide: bare };
const never = 1e6;

describe("start from dead", () => {
  it("a battery plugged in rings the load's input up as a series RLC circuit does", () => {
    const [L, C, E] = [5e-6, 1e-4, 13.8];
    const [rInt, r1, r2, esr] = [0.005, 0.01, 0.02, 0.015];
    const run = ran(
      line({
        start: "dead",
        faultTime: never,
        endTime: 5e-4,
        nodes,
        sources: [battery({ emf: E, internalResistance: rInt, lead: lead({ inductance: L / 2, resistance: r1 }) })],
        loads: [resistor(1e6, { inputCapacitance: C, esr, lead: lead({ inductance: L / 2, resistance: r2 }) })],
      }),
      { samples: [1e-5, 3e-5, 7e-5, 1.5e-4, 3e-4].map((delay) => ({ event: -1, delay })) },
    );
    const R = rInt + r1 + r2 + esr;
    const alpha = R / (2 * L);
    const omega = Math.sqrt(1 / (L * C) - alpha * alpha);
    const current = (t: number) => (E / (omega * L)) * Math.exp(-alpha * t) * Math.sin(omega * t);
    const inner = (t: number) =>
      E * (1 - Math.exp(-alpha * t) * (Math.cos(omega * t) + (alpha / omega) * Math.sin(omega * t)));
    for (const { delay, values } of run.samples) {
      // The nanofarad at the node rings too, by a few mA.
      expect(Math.abs(values.radio_A - current(delay))).toBeLessThan(0.01 * (E / (omega * L)));
      expect(Math.abs(values.radio_V - inner(delay) - esr * current(delay))).toBeLessThan(0.02);
    }
    // What the radio sees: nearly twice the battery.
    expect(run.loads[0].peak.value).toBeGreaterThan(1.6 * E);
    expect(run.loads[0].peak.time).toBeCloseTo(Math.PI / omega, 5);
  });

  it("a supply that is switched on follows its ramp with the lag of its own resistance and response", () => {
    const [on, ramp, load] = [0.02, 0.05, 2];
    const scenario = line({
      start: "dead",
      faultTime: never,
      endTime: 0.2,
      sources: [supply({ switchOn: { time: on, rampTime: ramp }, lead: lead({ resistance: 0.001 }) })],
      loads: [resistor(load, { inputCapacitance: 1e-3, lead: lead({ resistance: 0.001 }) })],
    });
    const run = ran(scenario, { samples: [0.019, on + ramp / 2, 0.19].map((delay) => ({ event: -1, delay })) });
    expect(told(run)).toEqual(["supply: switched on"]);
    const [before, half, after] = run.samples.map(({ values }) => values);
    expect(before.supply_V).toBe(0);
    const slope = 13.8 / ramp;
    const aim = 13.8 / 2;
    // i* = is + tau·is' with is = C·v' + v/R; at the terminals the output capacitor's own resistance adds its share.
    const is = (0.0047 + 1e-3 + 1e-6) * slope + aim / load;
    const expected = aim - 0.01 * (is + (2e-5 * slope) / load) + 0.02 * 0.0047 * slope;
    expect(Math.abs(half.supply_V / expected - 1)).toBeLessThan(2e-4);
    expect(Math.abs(after.supply_V - 13.8)).toBeLessThan(0.08);
    expect(run.sources[0].stateAtEnd).toBe("running");
  });

  it("a supply that is never switched on delivers nothing, whatever happens to it", () => {
    const run = ran(
      line({
        start: "dead",
        faultTime: 0.01,
        endTime: 0.1,
        sources: [
          supply({
            reservoir,
            switchOn: { time: 5, rampTime: 0.01 },
            fault: { kind: "shorted pass transistor", passResistance: 0.05 },
          }),
        ],
      }),
    );
    expect(run.loads[0].peak.value).toBe(0);
    expect(run.sources[0].stateAtEnd).toBe("not switched on");
  });

  it("a pass transistor that was shorted before switching on has no limiter and no shutdown", () => {
    const run = ran(
      line({
        start: "dead",
        faultTime: 0.01,
        endTime: 0.4,
        sources: [
          supply({
            reservoir,
            limit: { style: "latch off", current: 25, detectionTime: 1e-3 },
            shutdown: { voltage: 15, delay: 1e-4, worksOnLostFeedback: true },
            switchOn: { time: 0.05, rampTime: 0.01 },
            fault: { kind: "shorted pass transistor", passResistance: 0.05 },
          }),
        ],
        loads: [resistor(0.5)],
      }),
    );
    expect(told(run)).toEqual(["line: fault", "supply: switched on"]);
    const current = reservoir.rawVoltage / (reservoir.rawResistance + 0.05 + 0.01 + 0.01 + 0.5);
    expect(last(run.trace.columns.find(({ name }) => name === "radio_A")?.values ?? [])).toBeCloseTo(current, 1);
  });

  it("switching on into a short runs into the limiter; a latching supply stays off", () => {
    const run = ran(
      line({
        start: "dead",
        faultTime: never,
        endTime: 0.1,
        sources: [
          supply({
            switchOn: { time: 0.01, rampTime: 0.01 },
            limit: { style: "latch off", current: 25, detectionTime: 2e-3 },
          }),
        ],
        loads: [resistor(0.02)],
      }),
    );
    expect(told(run)).toEqual(["supply: switched on", "supply: limiter trips"]);
    expect(run.sources[0].stateAtEnd).toBe("latched off");
    expect(Math.abs(at(run, "supply_V", 0.1))).toBeLessThan(1e-6);
  });

  it("mains ripple behind a switched-on supply starts with the reservoir empty", () => {
    const values = sampled(
      line({
        start: "dead",
        faultTime: never,
        endTime: 0.3,
        sources: [
          supply({
            reservoir: { ...reservoir, ripple: true, rawVoltage: 24, rawResistance: 0.06 },
            switchOn: { time: 0.05, rampTime: 0.02 },
          }),
        ],
      }),
      0.28,
    );
    expect(values.supply_V).toBeGreaterThan(13.6);
    expect(values.supply_V).toBeLessThan(13.8);
  });
});
