import { describe, expect, it } from "vitest";
import { parts } from "../../packages/sim/src/scenario/parts/index.ts";
import {
  calibrateJunction,
  type FosterStage,
  pulseRise,
  surgeWindows,
} from "../../packages/sim/src/scenario/parts/junction.ts";

/** Peak rise by small exact steps with the power held over each. */
function steppedRise(stages: readonly FosterStage[], peak: number, duration: number, vt0: number, rt: number): number {
  const rises = stages.map(() => 0);
  const n = 20_000;
  let worst = 0;
  for (let i = 0; i < n; i++) {
    const current = peak * Math.sin((Math.PI * (i + 0.5)) / n);
    const power = (vt0 + rt * current) * current;
    stages.forEach(({ resistance, timeConstant }, m) => {
      rises[m] = resistance * power + (rises[m] - resistance * power) * Math.exp(-duration / n / timeConstant);
    });
    worst = Math.max(
      worst,
      rises.reduce((a, b) => a + b, 0),
    );
  }
  return worst;
}

const ratingOf = (values: (typeof parts)[number]["values"]) => ({
  junctionToCase: Number(values.junctionToCase.value),
  thresholdVoltage: Number(values.thresholdVoltage.value),
  slopeResistance: Number(values.slopeResistance.value),
  surgeCurrent: Number(values["ratings.surgeCurrent"].value),
  surgeDuration: Number(values.surgeDuration.value),
  failTemperature: 250,
});

describe("junction of the SCR classes", () => {
  const scrs = parts.filter(({ kind }) => kind === "crowbar");

  it.each(scrs.map((part) => [part.name, part] as const))(
    "%s stays below failure in its rated surge",
    (_name, part) => {
      const rating = ratingOf(part.values);
      const stages = calibrateJunction(rating);
      const rise = steppedRise(
        stages,
        rating.surgeCurrent,
        rating.surgeDuration,
        rating.thresholdVoltage,
        rating.slopeResistance,
      );
      expect(25 + rise).toBeLessThan(250);
      // Not made cooler than it must be: either untouched or at 95 % of the way.
      if (stages[0].timeConstant > 1e-3) expect(rise / 225).toBeCloseTo(0.95, 3);
      expect(stages.reduce((sum, { resistance }) => sum + resistance, 0)).toBeCloseTo(rating.junctionToCase, 12);
    },
  );

  it("takes the usual ladder where that is enough", () => {
    const gentle = { ...ratingOf(scrs[0].values), surgeCurrent: 10 };
    expect(calibrateJunction(gentle).map(({ timeConstant }) => timeConstant)).toEqual([1e-3, 10e-3, 0.1]);
  });

  it("says what is wrong with a rating", () => {
    const rating = ratingOf(scrs[0].values);
    expect(() => calibrateJunction({ ...rating, junctionToCase: 0 })).toThrow(/junction to case.*got 0/);
    expect(() => calibrateJunction({ ...rating, failTemperature: 20 })).toThrow(/failure temperature/);
  });
});

describe("pulse rise", () => {
  it.each([
    [[{ resistance: 1, timeConstant: 1 }], 100, 10e-3],
    [[{ resistance: 1.3, timeConstant: 1e-4 }], 50, 10e-3],
    [
      [
        { resistance: 0.15, timeConstant: 1e-3 },
        { resistance: 0.35, timeConstant: 10e-3 },
        { resistance: 0.5, timeConstant: 0.1 },
      ],
      300,
      1 / 120,
    ],
  ] as const)("agrees with small steps", (stages, peak, duration) => {
    const closed = pulseRise(stages, peak, duration, 0.9, 12e-3);
    expect(closed / steppedRise(stages, peak, duration, 0.9, 12e-3)).toBeCloseTo(1, 5);
  });
});

it("surge windows: 1.1, 1.0, 0.6, 0.38 of the surge current over √2", () => {
  expect(surgeWindows(100 * Math.SQRT2).map(({ duration, rms }) => [duration, Math.round(rms * 1e6) / 1e6])).toEqual([
    [1e-3, 110],
    [10e-3, 100],
    [0.1, 60],
    [1, 38],
  ]);
});
