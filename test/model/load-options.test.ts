import { describe, expect, it } from "vitest";
import { InvalidInput } from "../../packages/sim/src/issue/issue.ts";
import { simulate } from "../../packages/sim/src/model/run.ts";
import type { Scenario } from "../../packages/sim/src/scenario/types.ts";
import { battery, clamp, lampLoad, lead, line, powerLoad, resistor, supply } from "../support/line.ts";
import { at, last, ran, times, told } from "../support/run.ts";

const raised = (endVoltage: number, slew = 5000) => ({ kind: "voltage turned up", endVoltage, slew }) as const;

describe("a clamp at a load's terminals", () => {
  const run = ran(
    line({
      endTime: 0.05,
      sources: [supply({ limit: { style: "none" }, fault: raised(17) })],
      loads: [resistor(2, { clamp: clamp({ breakdownVoltage: 14, slopeResistance: 0.05 }) })],
    }),
  );

  it("settles where the line's drop, the clamp's slope and the load agree", () => {
    const R = 0.01 + 0.01 + 0.01;
    const v = (17 / R + 14 / 0.05) / (1 / R + 1 / 0.05 + 1 / 2);
    expect(Math.abs(at(run, "radio_V", 0.05) - v)).toBeLessThan(1e-3);
    expect(Math.abs(at(run, "radio_clamp_A", 0.05) - (v - 14) / 0.05)).toBeLessThan(0.02);
  });

  it("is found under its load's name with its energy in the balance", () => {
    const [{ load, findings }] = run.loadClamps;
    expect(load).toBe("radio");
    expect(findings.failedShort).toBe(false);
    const column = run.trace.columns.find(({ name }) => name === "radio_clamp_energy_J")?.values ?? [];
    expect(Math.abs(findings.energy - last(column))).toBeLessThan(1e-6 * findings.energy);
  });
});

describe("a load's under-voltage drop-out", () => {
  const [C, R, drop, delay] = [2e-3, 2, 11, 5e-4];
  const operations = [
    { time: 5e-3, action: "open" },
    { time: 30e-3, action: "close" },
  ] as const;
  const run = (comesBack: "by itself" | "by hand") =>
    ran(
      line({
        endTime: 0.06,
        sources: [
          battery({
            emf: 13.8,
            lead: lead({
              contact: { resistance: 1e-3, arcVoltage: 15, extinctionCurrent: 0.1, initially: "closed", operations },
            }),
          }),
        ],
        loads: [
          resistor(R, {
            inputCapacitance: C,
            dropOut: { voltage: drop, delay, sleepCurrent: 0.2, returnVoltage: 12, returnDelay: 4e-3, comesBack },
          }),
        ],
      }),
    );

  it("comes back by itself once the voltage has stayed up", () => {
    const made = run("by itself");
    expect(told(made).slice(1)).toEqual([
      "battery: contact opens",
      "battery: contact arc ends",
      "radio: drops out",
      "battery: contact closes",
      "radio: comes back",
    ]);
    const [drops] = times(made, "drops out");
    const [ends] = times(made, "contact arc ends");
    const start = at(made, "radio_V", ends);
    expect(Math.abs(drops - ends - (R * C * Math.log(start / drop) + delay))).toBeLessThan(1e-4);
    const [back] = times(made, "comes back");
    expect(back - 30e-3).toBeGreaterThan(4e-3);
    expect(back - 30e-3).toBeLessThan(4.5e-3);
    expect(made.loads[0].drops).toBe(1);
    expect(made.loads[0].sleepingAtEnd).toBe(false);
    expect(at(made, "radio_A", 0.06)).toBeCloseTo(13.8 / (R + 0.026), 2);
  });

  it("by hand it sleeps on and draws its sleep current", () => {
    const made = run("by hand");
    expect(told(made)).not.toContain("radio: comes back");
    expect(made.loads[0].sleepingAtEnd).toBe(true);
    expect(at(made, "radio_A", 0.06)).toBeCloseTo(0.2, 3);
  });

  it("asleep on a dying line it runs down quietly: a resistor below the drop-out voltage", () => {
    const made = ran(
      line({
        endTime: 1,
        sources: [supply({ limit: { style: "latch off", current: 25, detectionTime: 1e-3 }, fault: raised(16, 1e4) })],
        clamp: clamp({ breakdownVoltage: 14.5, ratings: { energy: 0.05, peakCurrent: 70, temperature: 150 } }),
        loads: [
          resistor(2, {
            dropOut: {
              voltage: 10,
              delay: 1e-3,
              sleepCurrent: 0.1,
              returnVoltage: 12,
              returnDelay: 0.01,
              comesBack: "by itself",
            },
          }),
        ],
      }),
    );
    expect(told(made)).toContain("radio: drops out");
    // Before it had this knee, the constant current chattered at zero for two million steps.
    expect(made.work.steps).toBeLessThan(400);
    expect(Math.abs(at(made, "radio_V", 1))).toBeLessThan(1e-3);
  });

  it.each([
    ["a lamp", lampLoad(50)],
    ["a load without input capacitance", resistor(2, { inputCapacitance: 0 })],
  ])("is refused for %s, with the reason", (_name, load) => {
    const dropOut = {
      voltage: 11,
      delay: 1e-3,
      sleepCurrent: 0.1,
      returnVoltage: 12,
      returnDelay: 1e-2,
      comesBack: "by hand",
    } as const;
    const scenario: Scenario = line({ loads: [{ ...load, dropOut }] });
    expect(() => simulate(scenario)).toThrow(InvalidInput);
    expect(() => simulate(scenario)).toThrow(/drop/);
  });
});

describe("a battery's EMF as a table over its charge", () => {
  const table = [
    { charge: 0, emf: 11.5 },
    { charge: 0.9, emf: 13 },
    { charge: 1, emf: 13.4 },
    { charge: 1.1, emf: 15.4 },
  ];
  const capacityAh = 0.1;
  const current = 5;
  const run = ran(
    line({
      endTime: 11.5,
      sources: [
        supply({
          setVoltage: 13.1,
          bleederResistance: 1e6,
          limit: { style: "constant current", current },
          fault: raised(17),
        }),
        battery({ emf: 13, capacityAh, emfTable: table }),
      ],
      loads: [resistor(1e5)],
    }),
    // Tight: what battery and supply feed nearly cancels, and the balance is judged against the rest.
    { tolerance: "tight", samples: [3, 6, 9, 10.5].map((delay) => ({ event: 0, delay })) },
  );

  it("rises piece by piece under a constant charging current, beyond full as well", () => {
    const emfAt = (charge: number) => {
      const k = Math.max(
        1,
        table.findIndex((point) => point.charge > charge),
      );
      const [a, b] = [table[k - 1], table[k]];
      return a.emf + ((charge - a.charge) * (b.emf - a.emf)) / (b.charge - a.charge);
    };
    const first = run.samples[0].values.battery_charge_share;
    for (const { values, delay } of run.samples) {
      const charge = values.battery_charge_share;
      expect(Math.abs(charge - first - (current * (delay - 3)) / (3600 * capacityAh))).toBeLessThan(1e-4);
      expect(Math.abs(values.battery_V - emfAt(charge) - 0.005 * current)).toBeLessThan(1e-3);
    }
    expect(run.sources[1].charge?.highest).toBeGreaterThan(1.04);
    expect(run.sources[1].charge?.end).toBeCloseTo(run.sources[1].charge?.highest ?? 0, 9);
  });
});

describe("a schedule", () => {
  it("changes a power load at its times, in order", () => {
    const run = ran(
      line({
        endTime: 0.02,
        loads: [
          powerLoad(20, {
            schedule: [
              { time: 5e-3, value: 200 },
              { time: 9e-3, value: 20 },
            ],
          }),
        ],
      }),
    );
    const [up, down] = times(run, "load changes");
    expect(up).toBeCloseTo(5e-3, 15);
    expect(down).toBeCloseTo(9e-3, 15);
    expect(at(run, "radio_A", 8.9e-3) / at(run, "radio_A", 4.9e-3)).toBeGreaterThan(9.9);
    expect(at(run, "radio_A", 0.02)).toBeCloseTo(at(run, "radio_A", 4.9e-3), 3);
  });
});
