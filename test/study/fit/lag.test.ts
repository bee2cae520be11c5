import { expect, test } from "vitest";
import { LineCurve } from "../../../packages/sim/src/study/fit/curve.ts";
import { LagTable, lagged } from "../../../packages/sim/src/study/fit/lag.ts";
import { lagIsTold } from "./claims.ts";

test("a lag of first order is exact in steps and slopes: 1 − exp(−t/τ), and t − τ + τ·exp(−t/τ)", () => {
  const step = lagged({ time: Float64Array.of(0, 1, 1, 9), values: Float64Array.of(0, 0, 2, 2) }, 0.5);
  const ramp = lagged({ time: Float64Array.of(0, 1, 9), values: Float64Array.of(3, 3, 11) }, 0.5);
  for (const t of [1.01, 1.3, 2, 4]) {
    expect(step(t)).toBeCloseTo(2 * (1 - Math.exp(-(t - 1) / 0.5)), 12);
    expect(ramp(t)).toBeCloseTo(3 + (t - 1) - 0.5 + 0.5 * Math.exp(-(t - 1) / 0.5), 12);
  }
  // It begins settled.
  for (const t of [-1, 0, 0.5]) expect([step(t), ramp(t)]).toEqual([0, 3]);
});

test("an instrument that lags by nothing shows what the run does, at an event and far from all", () => {
  const table = new LagTable(
    [new LineCurve(Float64Array.of(0, 1, 1, 9), Float64Array.of(0, 0, 2, 2))],
    Float64Array.of(1),
    0.1,
  );
  expect([table.at(0, 0, 0.01, 0, 0), table.at(0, -1, 5, 3, 0)]).toEqual([0, 0]);
  // What lags by a tenth of a second has not moved yet when the run has stepped by 2.
  expect(table.at(0, 0, 0, 0, 0.1)).toBeCloseTo(-2, 12);
  expect(table.at(0, -1, 5, 3, 0.1)).toBeCloseTo(-0.3, 12);
});

/** More captures of each stand in test/deep. */
test(
  "an instrument that lags by 0.6 samples is told, and what it does to values from edges",
  () => lagIsTold(11),
  60_000,
);
