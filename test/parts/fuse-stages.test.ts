import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { fitFuse, meltingTime } from "../../packages/sim/src/scenario/parts/fuse-fit.ts";

interface Stage {
  readonly weight: number;
  readonly timeConstant: number;
}

/** Time to melting of a fuse whose resistance stays as it is, θ = (I/I_inf)²·Σ w·(1 − exp(−t/τ)) to 1, by halving in log time. */
function byHalving(stages: readonly Stage[], ratio: number): number {
  const missing = (t: number) =>
    stages.reduce((sum, { weight, timeConstant }) => sum - weight * Math.expm1(-t / timeConstant), 0) - 1 / ratio ** 2;
  let [low, high] = [1e-12, 1e9];
  for (let i = 0; i < 200; i++) {
    const t = Math.sqrt(low * high);
    if (missing(t) < 0) low = t;
    else high = t;
  }
  return high;
}

const stagesOf = (weights: readonly number[], times: readonly number[]): Stage[] => {
  const sum = weights.reduce((total, weight) => total + weight, 0);
  return weights.map((weight, k) => ({ weight: weight / sum, timeConstant: times[k] }));
};

describe("a fuse of stages far apart", () => {
  test("melts when the sum of their rises says so, also where the curve is flat between them", () => {
    const slow = stagesOf([0.05, 0.95], [0.003, 25]);
    const model = { resistanceRatio: 1, minimumMeltingCurrent: 20, stages: slow };
    for (const current of [21, 25, 30, 35, 40]) {
      // The fast stage has long settled: 25 s·ln(0.95/(1 − (20/I)²)).
      const closed = 25 * Math.log(0.95 / (1 - (20 / current) ** 2));
      expect(meltingTime(model, current) / closed).toBeCloseTo(1, 12);
    }
  });

  test("at any weights and time constants, from just above the current that never melts it", () => {
    const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    const line = fc.record({
      weights: fc.array(number(0.01, 1), { minLength: 1, maxLength: 3 }),
      times: fc.tuple(number(-4, 4), number(-4, 4), number(-4, 4)),
      excess: number(-6, 1.5),
    });
    fc.assert(
      fc.property(line, ({ weights, times, excess }) => {
        const stages = stagesOf(
          weights,
          times.map((power) => 10 ** power),
        );
        const ratio = 1 + 10 ** excess;
        const found = meltingTime({ resistanceRatio: 1, minimumMeltingCurrent: 20, stages }, 20 * ratio);
        // The root's own condition: near the end the last stage creeps, and what rounding leaves of 1 − 1/ratio² tells.
        const tolerance = 1e-11 + 1e-14 / (1 - 1 / ratio ** 2);
        expect(Math.abs(Math.log(found / byHalving(stages, ratio)))).toBeLessThan(tolerance);
      }),
      { numRuns: 2000, seed: 20 },
    );
  });

  test.each([
    [
      [0.05, 0.95],
      [0.003, 25],
    ],
    [
      [0.05, 0.95],
      [0.001, 60],
    ],
    [
      [0.3, 0.7],
      [0.005, 20],
    ],
  ])("is found again from points of its curve: weights %s, time constants %s s", (weights, times) => {
    const stages = stagesOf(weights, times);
    const points = [22, 25, 30, 40, 60, 100, 200].map((current) => ({
      current,
      time: byHalving(stages, current / 20),
    }));
    const fit = fitFuse({ ratedCurrent: 15, nominalMeltingI2t: null, resistanceRatio: 1, gates: [], points });
    expect(fit.worstDeviation).toBeLessThan(1e-3);
    expect(fit.minimumMeltingCurrent).toBeCloseTo(20, 2);
    expect(fit.stages).toHaveLength(2);
  });

  test("of three is found again where most of its heat goes into the slow ones, with no gate to say so", () => {
    const stages = [0.012, Math.sqrt(0.012 * 280), 280].map((timeConstant, k) => ({
      weight: k === 0 ? 0.05 : 0.475,
      timeConstant,
    }));
    const slow = { resistanceRatio: 1.15, minimumMeltingCurrent: 12.8, stages };
    const points = [16, 20, 25, 30, 40, 60, 100, 150, 300, 600].map((current) => ({
      current,
      time: meltingTime(slow, current),
    }));
    const fit = fitFuse({ ratedCurrent: 10, nominalMeltingI2t: null, resistanceRatio: 1.15, gates: [], points });
    expect(fit.worstDeviation).toBeLessThan(0.01);
  });
});
