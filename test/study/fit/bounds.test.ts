import { expect, test } from "vitest";
import { valueSentence } from "../../../packages/sim/src/index.ts";
import { atBound } from "./claims.ts";

const OFF = "sources[0].limit.off time";
const TRIP = "crowbar.trip voltage";
/** Another one, which takes longer, stands in test/deep. */
test(
  "bounds that leave out the truth, a trip voltage by 1 %: at a bound, and no other line",
  () => atBound([OFF, `${TRIP} = 14…15.05 V`], 1),
  120_000,
);

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
