import { describe, expect, it } from "vitest";
import type { FuseGate, FuseModel } from "../../packages/sim/src/scenario/parts/fuse-fit.ts";
import {
  fitFuse,
  largeCurrentMeltingI2t,
  meltingCurve,
  meltingTime,
} from "../../packages/sim/src/scenario/parts/fuse-fit.ts";
import { parts } from "../../packages/sim/src/scenario/parts/index.ts";
import type { PartClass } from "../../packages/sim/src/scenario/parts/types.ts";

const fuses = parts.filter(({ kind }) => kind === "fuse");

function fitOf({ values }: PartClass) {
  return fitFuse({
    ratedCurrent: Number(values.ratedCurrent.value),
    nominalMeltingI2t: Number(values.nominalMeltingI2t.value),
    resistanceRatio: Number(values.resistanceRatio.value),
    gates: values.gates.value as FuseGate[],
  });
}

/** Opening time by stepping the equations of the model, not by the closed form that the fit uses. */
function steppedMeltingTime(model: FuseModel, current: number, longest: number, theta0 = 0): number {
  const k = model.resistanceRatio;
  const x = (current / model.minimumMeltingCurrent) ** 2;
  const stages = model.stages.map(({ weight, timeConstant }) => ({ weight, timeConstant, theta: weight * theta0 }));
  let t = 0;
  while (t < longest) {
    const theta = stages.reduce((sum, stage) => sum + stage.theta, 0);
    // Exact for a heating held over the step; steps of a thousandth of the fastest stage or of the time so far.
    const fastest = Math.min(...stages.map((stage) => stage.timeConstant));
    const step = Math.max(fastest / 500, t / 2000);
    let middle = 0;
    for (const stage of stages) {
      const aim = (stage.weight * x * (1 + (k - 1) * theta)) / k;
      middle += aim + (stage.theta - aim) * Math.exp(-step / 2 / stage.timeConstant);
    }
    for (const stage of stages) {
      const aim = (stage.weight * x * (1 + (k - 1) * middle)) / k;
      stage.theta = aim + (stage.theta - aim) * Math.exp(-step / stage.timeConstant);
    }
    const next = stages.reduce((sum, stage) => sum + stage.theta, 0);
    if (next >= 1) return t + (step * (1 - theta)) / (next - theta);
    t += step;
  }
  return Number.POSITIVE_INFINITY;
}

describe("every fuse class opens inside its published gates", () => {
  // Sources: time gates of the series sheets named in each class (series 287, 297, 299; IEC 60127-2 sheets 2 and 3; UL 248-14).
  it.each(fuses.map((part) => [part.name, part] as const))("%s", (_name, part) => {
    const fit = fitOf(part);
    const rated = Number(part.values.ratedCurrent.value);
    for (const { multiple, minimum, maximum } of part.values.gates.value as FuseGate[]) {
      const time = steppedMeltingTime(fit, multiple * rated, Math.max(minimum ?? 0, maximum ?? 0) * 1.01);
      if (minimum !== null) expect(time, `${multiple} times, not before`).toBeGreaterThanOrEqual(minimum);
      if (maximum !== null) expect(time, `${multiple} times, not after`).toBeLessThanOrEqual(maximum);
    }
    expect(fit.insideGates).toBe(true);
  });

  // Source: nominal melting I²t is measured at 10 × rated current, DC (a maker's page on fuse technology).
  it.each(fuses.map((part) => [part.name, part] as const))("%s meets its melting I²t at 10 × rated", (_name, part) => {
    const current = 10 * Number(part.values.ratedCurrent.value);
    const nominal = Number(part.values.nominalMeltingI2t.value);
    const time = steppedMeltingTime(fitOf(part), current, 10);
    expect(Math.abs((current ** 2 * time) / nominal - 1)).toBeLessThan(2e-3);
  });
});

describe("closed forms of the thermal model", () => {
  const one: FuseModel = { resistanceRatio: 1, minimumMeltingCurrent: 20, stages: [{ weight: 1, timeConstant: 2 }] };

  // Closed form: a first-order rise reaches 1 after −τ·ln(1 − (I_inf/I)²).
  it.each([20.001, 21, 27, 40, 200, 2e4])("k = 1, one stage at %f A", (current) => {
    const closed = -2 * Math.log1p(-((20 / current) ** 2));
    expect(meltingTime(one, current) / closed).toBeCloseTo(1, 9);
  });

  // Closed form: at a very large current no heat is lost, ∫dθ/ρ(θ) gives I_inf²·τ_a·k·ln k/(k − 1).
  it.each([1, 1.0001, 1.5, 2, 3, 4.5])("melting I²t at a very large current, k = %f", (resistanceRatio) => {
    const model: FuseModel = {
      resistanceRatio,
      minimumMeltingCurrent: 24,
      stages: [
        { weight: 0.6, timeConstant: 0.3 },
        { weight: 0.3, timeConstant: 5 },
        { weight: 0.1, timeConstant: 100 },
      ],
    };
    const rate = 0.6 / 0.3 + 0.3 / 5 + 0.1 / 100;
    const growth = resistanceRatio === 1 ? 1 : (resistanceRatio * Math.log(resistanceRatio)) / (resistanceRatio - 1);
    const closed = (24 ** 2 * growth) / rate;
    const [{ current, time }] = meltingCurve(model, [24e5]);
    expect((current ** 2 * time) / closed).toBeCloseTo(1, 7);
    expect(largeCurrentMeltingI2t(model) / closed).toBeCloseTo(1, 10);
  });
});
