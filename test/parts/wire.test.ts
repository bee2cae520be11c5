import { describe, expect, it } from "vitest";
import { adiabaticI2t, fusingCurrent, IEC_60949_COPPER } from "../../packages/sim/src/scenario/conductor.ts";
import { capacitorDumpI2t, meltingI2tToStand, pulseWithstand } from "../../packages/sim/src/scenario/surge.ts";
import { gaugeArea, pairInductance, solidDiameter, wireResistance } from "../../packages/sim/src/scenario/wire.ts";

describe("wire", () => {
  it("reads gauges as numbers and texts, and the large ones", () => {
    expect(gaugeArea("12")).toBe(gaugeArea(12));
    expect(gaugeArea("1/0")).toBe(gaugeArea(0));
    // ASTM B258 defines 4/0 as 0.46 inch and 36 as 0.005 inch.
    expect(solidDiameter(gaugeArea("4/0"))).toBeCloseTo(0.46 * 25.4e-3, 9);
    expect(solidDiameter(gaugeArea(36))).toBeCloseTo(0.005 * 25.4e-3, 12);
    for (const bad of ["5/0", "12.5", "", "x", 41, -1.5]) expect(() => gaugeArea(bad)).toThrow(/wire gauge/);
  });

  it("warm copper has more resistance", () => {
    const wire = { length: 1.5, area: 4e-6 };
    expect(wireResistance({ ...wire, temperature: 70 }) / wireResistance(wire)).toBeCloseTo(1 + 0.00393 * 50, 12);
    expect(() => wireResistance({ ...wire, area: 0 })).toThrow(/area.*got 0/);
    expect(() => wireResistance({ ...wire, length: Number.NaN })).toThrow(/length/);
  });

  it("touching conductors keep only their inside; overlapping ones are refused", () => {
    const area = 4e-6;
    expect(pairInductance({ length: 2, area, spacing: solidDiameter(area) })).toBeCloseTo(0.2e-6, 12);
    expect(() => pairInductance({ length: 2, area, spacing: 1e-3 })).toThrow(/2\.26 mm, got 1\.00 mm/);
    expect(pairInductance({ length: 1, area })).toBeGreaterThan(0.4e-6);
  });
});

describe("conductor heating", () => {
  it("grows with the square of the area and adds up over temperature", () => {
    expect(adiabaticI2t(4e-6, 25, 160) / adiabaticI2t(2e-6, 25, 160)).toBeCloseTo(4, 12);
    const parts = adiabaticI2t(1e-6, 25, 90) + adiabaticI2t(1e-6, 90, 160);
    expect(parts).toBeCloseTo(adiabaticI2t(1e-6, 25, 160, IEC_60949_COPPER), 6);
    expect(adiabaticI2t(1e-6, 70, 70)).toBe(0);
  });

  it("says what is wrong", () => {
    expect(() => adiabaticI2t(0, 25, 160)).toThrow(/area/);
    expect(() => adiabaticI2t(1e-6, 160, 25)).toThrow(/below the start of 160/);
    expect(() => adiabaticI2t(1e-6, -300, 25)).toThrow(/above -234\.5/);
    expect(() => fusingCurrent(-1)).toThrow(/area/);
  });
});

describe("surges", () => {
  it("interpolates over the logarithm of the pulses, and stops where the table stops", () => {
    expect(pulseWithstand(Math.sqrt(100 * 1000))).toBeCloseTo(0.43, 12);
    expect(pulseWithstand(3)).toBe(0.48);
    expect(pulseWithstand(100_001)).toBeNull();
    expect(() => pulseWithstand(0)).toThrow(/1 or more/);
    expect(() => meltingI2tToStand(60, 35)).toThrow(/between 0 and 1/);
  });

  it("a capacitor dump spends half its charge current squared over the time constant", () => {
    expect(capacitorDumpI2t(15, 1, 4.7e-3, 20e-3)).toBeCloseTo((14 ** 2 * 4.7e-3) / 40e-3, 12);
    expect(capacitorDumpI2t(0.5, 1, 4.7e-3, 20e-3)).toBe(0);
    expect(() => capacitorDumpI2t(15, 1, 0, 20e-3)).toThrow(/capacitance/);
  });
});
