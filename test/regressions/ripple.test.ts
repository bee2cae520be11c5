import { describe, expect, it } from "vitest";
import type { Scenario } from "../../packages/sim/src/scenario/types.ts";
import { currentLoad, line, reservoir, resistor, supply } from "../support/line.ts";
import { ran, sampled, told } from "../support/run.ts";

const wave = { ...reservoir, rawVoltage: 21, rawResistance: 0.06, capacitance: 0.05, ripple: true };

function rippled(over: Partial<Scenario> = {}, drain = 15): Scenario {
  return line({
    sources: [supply({ reservoir: wave })],
    loads: [currentLoad(drain)],
    faultTime: 0,
    endTime: 0.5,
    ...over,
  });
}

describe("a reservoir behind ripple", () => {
  it("costs at most 14 steps a half-wave: nothing stops at zeros of the wave that nobody feels", () => {
    const { work } = ran(rippled());
    expect(work.steps / 60).toBeLessThan(14);
    // The charging pulse begins and ends: two corners a half-wave.
    expect(work.quietChanges / 60).toBeLessThan(2.1);
  });

  it("starts on its periodic solution and stays there", () => {
    // The bleeder and the leads draw the same at any time, so each half-wave repeats the one before.
    for (const drain of [0.05, 1, 15]) {
      const run = ran(rippled({}, drain), { samples: [0.1, 0.3, 0.5].map((delay) => ({ event: -1, delay })) });
      const energies = run.samples.map(({ values }) => values.supply_V);
      for (const volts of energies) expect(volts).toBeCloseTo(energies[0], 6);
      expect(run.energy.relative).toBeLessThan(1e-8);
    }
  });

  it("delivers the same charge as it loses: mean raw current equals the drain", () => {
    const run = ran(rippled());
    // At whole half-waves the reservoir stores what it stored; its supply is fed the drain and the bleeder.
    const fed = 0.5 * 13.8 * 15;
    expect(run.energy.fed / fed).toBeGreaterThan(0.98);
    expect(run.energy.fed / fed).toBeLessThan(1.001);
  });

  it("never comes to rest, switched on from dead it charges through the wave's zeros", () => {
    const run = ran(rippled({ endTime: 20, loads: [resistor(1e3)] }));
    expect(run.outcome.status).toBe("finished");
    const slow = { ...wave, rawResistance: 5 };
    const dead = rippled({
      start: "dead",
      sources: [supply({ reservoir: slow })],
      loads: [resistor(20)],
      endTime: 0.2,
    });
    const loose = sampled(dead, 0.15);
    const tight = sampled(dead, 0.15, { tolerance: "tight" });
    expect(loose.supply_V / tight.supply_V).toBeCloseTo(1, 4);
  });
});

describe("the end of a run", () => {
  it("still has what is due at that instant, whatever the roundings of the segments before", () => {
    // Decimal fractions and thousands of corners between: 0.7 s, 3 s, 1/3 s.
    for (const endTime of [0.7, 3, 1 / 3]) {
      const loads = [currentLoad(15, { schedule: [{ time: endTime, value: 5 }] })];
      expect(told(ran(rippled({ loads, endTime })))).toEqual(["line: fault", "radio: load changes"]);
    }
  });
});
