import { describe, expect, it } from "vitest";
import {
  adiabaticI2t,
  CIRCULAR_MIL,
  COPPER_MELTING,
  fusingCurrent,
  ICEA_COPPER,
  IEC_60949_COPPER,
  MATERIAL_COPPER,
  ONDERDONK_COPPER,
} from "../../packages/sim/src/scenario/conductor.ts";
import { gaugeArea, pairInductance, wireResistance } from "../../packages/sim/src/scenario/wire.ts";

const FOOT = 0.3048;
const INCH = 25.4e-3;

describe("wire gauge and resistance", () => {
  // Source: hyperphysics, table of wire gauges, ohm per 1000 ft; ASTM B258 for the diameters, IEC 60028 for copper.
  it.each([
    [8, 0.6282],
    [10, 0.9989],
    [12, 1.588],
    [14, 2.525],
    [16, 4.016],
    [18, 6.385],
  ])("%i AWG has %f ohm per 1000 ft", (gauge, ohms) => {
    const oneConductor = wireResistance({ length: 1000 * FOOT, area: gaugeArea(gauge) }) / 2;
    expect(Math.abs(oneConductor / ohms - 1)).toBeLessThan(3e-4);
  });

  // Source: a maker's table of voltage drops at 21.7 A over "about 2.1 m" of copper in total. Only lengths from 2.065 to
  // 2.085 m round to all three printed drops: the middle is taken, and each drop must round to its two digits.
  it.each([
    [6, 0.13],
    [4, 0.19],
    [1.5, 0.52],
  ])("%f mm² drops %f V at 21.7 A over about 2.1 m of copper", (mm2, volts) => {
    const drop = 21.7 * wireResistance({ length: 2.075 / 2, area: mm2 * 1e-6 });
    expect(Math.abs(drop - volts)).toBeLessThan(0.005);
  });

  // Computed from (μ0/π)·acosh(D/d) and 0.1 µH/m, common practice: no published figure.
  it("12 AWG at 3.5 mm has 0.55 µH/m", () => {
    expect(pairInductance({ length: 1, area: gaugeArea(12), spacing: 3.5e-3 })).toBeCloseTo(0.55e-6, 8);
  });
});

describe("adiabatic heating", () => {
  // Source: Onderdonk's equation, IEC 60949, and the integral over copper's material constants.
  it.each([
    [25, 160],
    [70, 160],
    [20, 250],
    [20, COPPER_MELTING],
  ])("from %f to %f °C Onderdonk, IEC 60949 and the material integral agree within a hundredth", (from, to) => {
    const found = [IEC_60949_COPPER, ONDERDONK_COPPER, MATERIAL_COPPER].map((law) => adiabaticI2t(1e-6, from, to, law));
    expect(Math.max(...found) / Math.min(...found)).toBeLessThan(1.01);
  });

  it("from 20 °C to the start of melting: 8.40e4, 8.44e4 and 8.38e4 A²s/mm⁴", () => {
    const found = [IEC_60949_COPPER, ONDERDONK_COPPER, MATERIAL_COPPER].map((law) =>
      adiabaticI2t(1e-6, 20, COPPER_MELTING, law),
    );
    [8.4e4, 8.44e4, 8.38e4].forEach((value, i) => {
      expect(Math.abs(found[i] / value - 1)).toBeLessThan(1e-3);
    });
  });

  // Onderdonk as printed: 33·(I/A)²·t = log10((T_m − T_a)/(234 + T_a) + 1), A in circular mils.
  it("Onderdonk's constant is the printed 33", () => {
    const mils = 1000;
    const printed = (Math.log10((1083 - 40) / (234 + 40) + 1) / 33) * mils ** 2;
    expect(adiabaticI2t(mils * CIRCULAR_MIL, 40, 1083, ONDERDONK_COPPER) / printed).toBeCloseTo(1, 10);
  });

  // Source: published rule of the ICEA form: 5 s from 75 to 150 °C allow 1 A per 42.25 circular mils.
  it("5 s from 75 to 150 °C: 1 A per 42.25 circular mils, and IEC 60949 within 1 %", () => {
    const milsPerAmpere = (law: typeof ICEA_COPPER) => 1 / Math.sqrt(adiabaticI2t(CIRCULAR_MIL, 75, 150, law) / 5);
    expect(Math.abs(milsPerAmpere(ICEA_COPPER) / 42.25 - 1)).toBeLessThan(5e-4);
    expect(Math.abs(milsPerAmpere(IEC_60949_COPPER) / 42.25 - 1)).toBeLessThan(0.01);
  });
});

describe("Preece", () => {
  // Source: nessengr.com, table of fusing currents: copper, diameters in inches.
  it.each([
    [10, 0.0098],
    [20, 0.0156],
    [30, 0.0205],
    [40, 0.0248],
  ])("copper that fuses at %f A is %f inch thick", (amperes, inches) => {
    const areaOf = (d: number) => (Math.PI / 4) * (d * INCH) ** 2;
    // The printed diameter is rounded to 0.0001 inch: the current must lie between those of its neighbours.
    expect(fusingCurrent(areaOf(inches - 0.00006))).toBeLessThan(amperes);
    expect(fusingCurrent(areaOf(inches + 0.00006))).toBeGreaterThan(amperes);
  });
});
