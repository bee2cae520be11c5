import { describe, expect, it } from "vitest";
import { CLAMP_ROWS, clampSlope } from "../../packages/sim/src/scenario/parts/clamps.ts";
import { findPart, parts } from "../../packages/sim/src/scenario/parts/index.ts";
import { surgeWindows } from "../../packages/sim/src/scenario/parts/junction.ts";
import { meltingI2tToStand, pulseI2t, pulseWithstand } from "../../packages/sim/src/scenario/surge.ts";

const figure = (kind: Parameters<typeof findPart>[0], name: string, key: string): number =>
  Number(findPart(kind, name)?.values[key]?.value);

describe("SCR surge ratings", () => {
  // Source: the named parts' data sheets; both figures are printed, I_TSM²·t_p/2 = I²t ties them.
  const scrs = parts.filter(({ kind }) => kind === "crowbar");
  it.each(scrs.map(({ name }) => name))("%s: surge current and I²t belong to one half sine", (name) => {
    const peak = figure("crowbar", name, "ratings.surgeCurrent");
    const duration = figure("crowbar", name, "surgeDuration");
    const found = pulseI2t({ shape: "half sine", peak, duration });
    // Sheets round to two or three digits.
    expect(Math.abs(found / figure("crowbar", name, "ratings.i2t") - 1)).toBeLessThan(0.01);
  });

  it("the 10 ms window is the rating itself, in I²t", () => {
    const window = surgeWindows(300)[1];
    expect(window.rms ** 2 * window.duration).toBeCloseTo(450, 9);
  });

  // Source: MCR69 sheet, 750 A for 1 ms (5 time constants) on a part of 300 A surge current.
  it("the 1 ms window follows the published capacitor pulse of the crowbar-grade part", () => {
    const pulse = pulseI2t({ shape: "exponential", peak: 750, timeConstant: 0.2e-3 });
    const rms = Math.sqrt(pulse / 1e-3);
    expect(Math.abs(surgeWindows(300)[0].rms / rms - 1)).toBeLessThan(0.02);
  });
});

describe("pulses and fuses", () => {
  // Source: fuse catalogue, pulse charts. Each coefficient is the integral of the square: checked by a sum.
  it.each([
    [{ shape: "rectangle", current: 7, duration: 3 }, () => 7, 3],
    [{ shape: "trapezoid", from: 2, to: 9, duration: 3 }, (t: number) => 2 + (7 * t) / 3, 3],
    [{ shape: "half sine", peak: 7, duration: 3 }, (t: number) => 7 * Math.sin((Math.PI * t) / 3), 3],
    [{ shape: "triangle", peak: 7, duration: 3 }, (t: number) => 7 * Math.min(t / 1, (3 - t) / 2), 3],
    [{ shape: "exponential", peak: 7, timeConstant: 0.1 }, (t: number) => 7 * Math.exp(-t / 0.1), 3],
  ] as const)("%o", (pulse, current, end) => {
    const n = 60_000;
    let sum = 0;
    for (let i = 0; i < n; i++) sum += (current(((i + 0.5) * end) / n) ** 2 * end) / n;
    expect(pulseI2t(pulse) / sum).toBeCloseTo(1, 6);
  });

  // Source: fuse catalogue, pulse withstand: 22/29/38/48 % for 100 000/10 000/1000/100 pulses.
  it.each([
    [100_000, 0.22],
    [10_000, 0.29],
    [1000, 0.38],
    [100, 0.48],
  ])("%i pulses: %f of nominal melting I²t", (pulses, fraction) => {
    expect(pulseWithstand(pulses)).toBeCloseTo(fraction, 12);
  });

  // Source: JHC fuse sheet, p. 7: 60 A²s at 35 % need a fuse above 171.4 A²s.
  it("60 A²s at 35 % need more than 171.4 A²s", () => {
    expect(meltingI2tToStand(60, 0.35)).toBeCloseTo(171.4, 1);
  });
});

describe("clamp rows", () => {
  // Source: SM15T sheet: 1500 W for 10/1000 µs, 10 kW for 8/20 µs.
  it.each(CLAMP_ROWS.map((row) => [row.name, row] as const))("%s carries its rated pulse power", (name, row) => {
    const breakdown = figure("clamp", name, "breakdownVoltage");
    const voltage = (current: number, slope: number) => breakdown + current * slope;
    const long = voltage(row.long.current, figure("clamp", name, "slopeResistance")) * row.long.current;
    const short = voltage(row.short.current, clampSlope(breakdown, row.short)) * row.short.current;
    expect(Math.abs(long / 1500 - 1)).toBeLessThan(0.005);
    expect(Math.abs(short / 10_000 - 1)).toBeLessThan(0.005);
  });

  // Source: pulse power over duration of the same sheet: it falls as t^−0.485, so the short rating follows from the long one.
  it("the two rated powers are t^−0.485 apart", () => {
    const [row] = CLAMP_ROWS;
    const ratio = (row.short.voltage * row.short.current) / (row.long.voltage * row.long.current);
    expect(Math.log(ratio) / Math.log(1000 / 20)).toBeCloseTo(0.485, 2);
  });
});
