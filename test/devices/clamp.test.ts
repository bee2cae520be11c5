import { describe, expect, it } from "vitest";
import { clamp, crowbar, lead, line, resistor, supply } from "../support/line.ts";
import { at, last, ran, sampled, told } from "../support/run.ts";

/* A source of 20 V behind 1 ohm that rises within 0.2 ms, and a clamp of 16 V with 1 ohm: 2 A at 18 V. */
const raised = { kind: "voltage turned up", endVoltage: 20, slew: 1e5 } as const;
const source = () =>
  supply({
    setVoltage: 13.8,
    sourceResistance: 0.01,
    limit: { style: "none" },
    lead: lead({ resistance: 0.99 }),
    bleederResistance: 1e9,
    fault: raised,
  });
const idle = resistor(1e6, { inputCapacitance: 0 });
const across = (over: Parameters<typeof clamp>[0] = {}, endTime = 0.05) =>
  line({ endTime, sources: [source()], loads: [idle], clamp: clamp({ slopeResistance: 1, ...over }) });

describe("a clamp", () => {
  it("holds the line where its own line meets the source's, and takes nothing below its breakdown voltage", () => {
    const values = sampled(across(), 0.04);
    expect(values.protected_side_V).toBeCloseTo(18, 4);
    expect(values.clamp_A).toBeCloseTo(2, 4);
    expect(sampled(across(), 0.9e-3).clamp_A).toBeCloseTo(0, 12);
  });

  it("takes voltage times current, counted from where it begins to conduct", () => {
    const [early, late] = [0.02, 0.04].map((delay) => sampled(across(), delay).clamp_energy_J);
    expect(late - early).toBeCloseTo(18 * 2 * 0.02, 5);
    expect(sampled(across(), 0.9e-3).clamp_energy_J).toBe(0);
    // From the fault on, but for the rise and what the supply overshoots.
    expect(Math.abs(early / (18 * 2 * 0.019) - 1)).toBeLessThan(5e-3);
  });

  it("warms with its power towards thermal resistance times power", () => {
    const warm = across({ thermalResistance: 2, thermalTimeConstant: 5e-3 });
    expect(sampled(warm, 0.049).clamp_rise_K).toBeCloseTo(72, 1);
    const [a, b] = [0.01, 0.015].map((delay) => 72 - sampled(warm, delay).clamp_rise_K);
    expect(b / a).toBeCloseTo(Math.exp(-1), 3);
  });

  it("fails short when its energy reaches the rating, not before, and is a resistance from then on", () => {
    const run = ran(across({ ratings: { energy: 0.36, peakCurrent: null, temperature: null }, shortResistance: 0.5 }));
    expect(told(run)).toEqual(["line: fault", "clamp: fails short"]);
    // 36 W for 10 ms.
    expect(run.clamp?.failTime).toBeCloseTo(1e-3 + 0.01, 3);
    expect(at(run, "clamp_energy_J", run.clamp?.failTime ?? 0)).toBeCloseTo(0.36, 6);
    const column = (name: string) => last(run.trace.columns.find((each) => each.name === name)?.values ?? []);
    expect(column("protected_side_V")).toBeCloseTo((20 * 0.5) / 1.5, 4);
    expect(column("clamp_A")).toBeCloseTo(20 / 1.5, 4);
  });

  it("stays what it is where it does not fail short", () => {
    const run = ran(across({ failsShort: false, ratings: { energy: 0.36, peakCurrent: null, temperature: null } }));
    expect(told(run)).toEqual(["line: fault"]);
    expect(run.clamp?.failedShort).toBe(false);
    expect(run.clamp?.energy).toBeGreaterThan(1);
  });

  it("that conducts in normal service counts from the start, and warm it begins where it has settled", () => {
    const scenario = line({
      faultTime: 0.04,
      endTime: 0.05,
      sources: [source()],
      loads: [idle],
      clamp: clamp({ breakdownVoltage: 12.8, slopeResistance: 1, thermalResistance: 2, thermalTimeConstant: 5e-3 }),
    });
    // 13.8 V behind 1 ohm and 12.8 V behind another: 0.5 A at 13.3 V.
    const values = sampled(scenario, 0.02);
    expect(values.clamp_A).toBeCloseTo(0.5, 4);
    expect(values.clamp_energy_J).toBeCloseTo(0.5 * 13.3 * 0.02, 5);
    expect(values.clamp_rise_K).toBeCloseTo(2 * 0.5 * 13.3, 3);
  });

  it("lets go again when the voltage falls: a crowbar beside it takes everything", () => {
    const run = ran({ ...across({ breakdownVoltage: 14.5 }), crowbar: crowbar({ tripVoltage: 15 }) });
    expect(told(run)).toEqual(["line: fault", "crowbar: fires"]);
    const ends = last(run.trace.columns.find(({ name }) => name === "clamp_A")?.values ?? []);
    expect(ends).toBeCloseTo(0, 12);
  });

  it("of a load goes by its name beside that of the line", () => {
    const both = line({
      endTime: 0.02,
      sources: [source()],
      clamp: clamp({ slopeResistance: 1 }),
      loads: [resistor(1e6, { clamp: clamp({ breakdownVoltage: 17 }) })],
    });
    const run = ran(both);
    const names = Object.keys(run.operatingPoint);
    for (const name of ["dTclamp", "clamp energy", "radio.dTclamp", "radio clamp energy"])
      expect(names).toContain(name);
    expect(run.loadClamps[0].findings.energy).toBeGreaterThan(run.clamp?.energy ?? Number.POSITIVE_INFINITY);
  });
});
