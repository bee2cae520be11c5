import { expect, test } from "vitest";
import { valueSentence } from "../../../packages/sim/src/index.ts";

test("an interval with one end at a bound is told by its ends", () => {
  const value = {
    path: [],
    label: "trip voltage",
    dimension: "voltage",
    unit: "V",
    nominal: 15,
    low: 15,
    high: 16,
  } as const;
  const told = { ...value, value: 15.02, from: 15, to: 15.05, error: 0.01, state: "found" } as const;
  expect(valueSentence({ ...told, value: 15.01 })).toBe("trip voltage: 15.01 V, from 15 V to 15.05 V (was 15 V).");
  expect(valueSentence(told)).toBe("trip voltage: 15.02 V ± 0.03 V (was 15 V).");
});
