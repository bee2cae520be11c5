import { describe, expect, it } from "vitest";
import type { Contact } from "../../packages/sim/src/scenario/types.ts";
import { battery, lead, line, resistor, supply } from "../support/line.ts";
import { at, ran, times, told } from "../support/run.ts";

const contact = (over: Partial<Contact>): Contact => ({
  resistance: 1e-3,
  arcVoltage: 15,
  extinctionCurrent: 0.1,
  initially: "closed",
  operations: [],
  ...over,
});
const tiny = { capacitance: 1e-9, resistance: 1 };
const nodes = { supplySide: tiny, protectedSide: tiny, radioSide: tiny };
const stiff = () =>
  battery({ emf: 13.8, internalResistance: 1e-4, lead: lead({ inductance: 1e-9, resistance: 1e-4 }) });

describe("a contact that opens", () => {
  it("draws an arc until the current is gone, as a series RL circuit against the arc voltage, then leaves the load alone", () => {
    const [L, R, load, C] = [2e-4, 0.02, 2, 5e-3];
    const run = ran(
      line({
        endTime: 0.02,
        nodes,
        sources: [stiff()],
        loads: [
          resistor(load, {
            inputCapacitance: C,
            esr: 1e-3,
            lead: lead({
              inductance: L,
              resistance: R,
              contact: contact({ operations: [{ time: 2e-3, action: "open" }] }),
            }),
          }),
        ],
      }),
    );
    expect(told(run)).toEqual(["line: fault", "radio: contact opens", "radio: contact arc ends"]);
    const [opens] = times(run, "contact opens");
    const [ends] = times(run, "contact arc ends");
    expect(opens).toBe(2e-3);
    const total = R + 1e-3 + 2e-4;
    const start = 13.8 / (load + total);
    const against = 15 - start * total;
    const expected = (L / total) * Math.log((start + against / total) / (0.1 + against / total));
    expect(Math.abs((ends - opens) / expected - 1)).toBeLessThan(0.01);
    // From there on the input capacitor runs down through the load.
    const [a, b] = [at(run, "radio_V", 0.005), at(run, "radio_V", 0.015)];
    expect(Math.abs(Math.log(a / b) - 0.01 / (C * (load + 1e-3)))).toBeLessThan(0.01);
    expect(at(run, "radio_A", 0.01)).toBe(0);
  });

  it("whose arc the source can hold never opens", () => {
    const run = ran(
      line({
        endTime: 0.05,
        nodes,
        sources: [stiff()],
        loads: [
          resistor(2, {
            inputCapacitance: 0,
            lead: lead({ contact: contact({ arcVoltage: 5, operations: [{ time: 2e-3, action: "open" }] }) }),
          }),
        ],
      }),
    );
    expect(told(run)).toEqual(["line: fault", "radio: contact opens"]);
    expect(at(run, "radio_A", 0.05)).toBeCloseTo((13.8 - 5) / (2 + 0.01 + 1e-3 + 2e-4), 3);
  });

  it("closed again while it still arcs carries on", () => {
    const run = ran(
      line({
        endTime: 0.05,
        nodes,
        sources: [stiff()],
        loads: [
          resistor(2, {
            inputCapacitance: 0,
            lead: lead({
              contact: contact({
                arcVoltage: 5,
                operations: [
                  { time: 2e-3, action: "open" },
                  { time: 10e-3, action: "close" },
                ],
              }),
            }),
          }),
        ],
      }),
    );
    expect(told(run)).toEqual(["line: fault", "radio: contact opens", "radio: contact closes"]);
    expect(at(run, "radio_A", 0.05)).toBeCloseTo(13.8 / 2.0112, 3);
  });
});

describe("a contact that closes", () => {
  it("lets the current rise as R and L of the loop command", () => {
    const [L, load] = [1e-3, 2];
    const run = ran(
      line({
        endTime: 5e-3,
        nodes,
        sources: [stiff()],
        loads: [
          resistor(load, {
            inputCapacitance: 0,
            lead: lead({
              inductance: L,
              contact: contact({ initially: "open", operations: [{ time: 2e-3, action: "close" }] }),
            }),
          }),
        ],
      }),
      { samples: [1e-4, 4e-4, 1e-3].map((delay) => ({ event: 1, delay })) },
    );
    expect(told(run)).toEqual(["line: fault", "radio: contact closes"]);
    expect(at(run, "radio_A", 1.9e-3)).toBe(0);
    const R = load + 0.01 + 1e-3 + 2e-4;
    for (const { delay, values } of run.samples)
      expect(Math.abs(values.radio_A - (13.8 / R) * (1 - Math.exp((-delay * R) / L)))).toBeLessThan(2e-4);
  });
});

describe("diodes in the leads of two sources", () => {
  const forward = { forwardVoltage: 0.5, resistance: 0.01 };

  it("the higher source carries the load, the lower one nothing, and none is fed backwards", () => {
    const run = ran(
      line({
        endTime: 0.5,
        sources: [
          battery({ name: "high", emf: 13.5, diode: forward }),
          battery({ name: "low", emf: 12.5, diode: forward }),
        ],
      }),
    );
    const column = (name: string) => run.trace.columns.find((c) => c.name === name)?.values ?? new Float64Array(0);
    expect(Math.max(...column("low_A").map(Math.abs))).toBe(0);
    const R = 0.005 + 0.01 + 0.01 + 0.01 + 2;
    expect(at(run, "high_A", 0.5)).toBeCloseTo((13.5 - 0.5) / R, 3);
  });

  it("a battery behind a diode takes over when the supply's lead is pulled, and lets go when it returns", () => {
    const operations = [
      { time: 5e-3, action: "open" },
      { time: 20e-3, action: "close" },
    ] as const;
    const run = ran(
      line({
        endTime: 0.05,
        sources: [
          supply({ diode: forward, lead: lead({ contact: contact({ operations }) }) }),
          battery({ emf: 12.5, diode: forward }),
        ],
      }),
    );
    expect(told(run)).toEqual([
      "line: fault",
      "supply: contact opens",
      "supply: contact arc ends",
      "supply: contact closes",
    ]);
    expect(at(run, "battery_A", 4e-3)).toBe(0);
    expect(at(run, "battery_A", 19e-3)).toBeCloseTo((12.5 - 0.5) / 2.035, 1);
    expect(Math.abs(at(run, "battery_A", 0.05))).toBeLessThan(1e-3);
    const lowest = Math.min(
      ...run.trace.columns.filter(({ name }) => name.endsWith("y_A")).flatMap(({ values }) => [...values]),
    );
    expect(lowest).toBeGreaterThan(-1e-4);
  });
});
