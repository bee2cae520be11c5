import { describe, expect, test } from "vitest";
import { type Fit, fitScenario, valueSentence } from "../../../packages/sim/src/index.ts";
import { BRIEFLY, captured, hiccupInstrument, scenarioWith } from "./bench.ts";
import { truthOnBound } from "./claims.ts";

const OFF = "sources[0].limit.off time";
const TRIP = "crowbar.trip voltage";
const line = (values: Readonly<Record<string, string>>): string => scenarioWith("02-hiccup-supply", values);

async function fitted(real: string, free: readonly string[]): Promise<Fit> {
  const capture = captured(real, hiccupInstrument(1, BRIEFLY));
  const answer = await fitScenario(line({}), "hut.yaml", capture, { free, channels: [] });
  if (answer.kind === "refused") throw new Error(answer.issues.map(({ message }) => message).join("; "));
  return answer;
}

describe("bounds that leave the truth out", () => {
  test.each([
    ["an off time by 3 %", [`${OFF} = 200…321 ms`, TRIP], 0],
    ["a trip voltage by 1 %", [OFF, `${TRIP} = 14…15.05 V`], 1],
  ] as const)(
    "%s: at a bound, and no other line",
    async (_, free, k) => {
      const found = await fitted(line({ [OFF]: "331 ms", [TRIP]: "15.2 V" }), free);
      expect(found.isAnother).toBe(false);
      expect(found.values[k]!.state).toBe("at bound");
      expect(valueSentence(found.values[k]!)).toContain("at a bound of");
      expect(found.untold.join(" ")).toContain("and the capture would have it beyond");
    },
    240_000,
  );
});

/** Five captures of it stand in test/deep. */
test("a truth that lies on a bound is found, with an interval that reaches to the bound", async () => {
  // Of two captures neither: six in ten thousand at 97.5 %.
  expect(await truthOnBound([1, 2])).toBeGreaterThanOrEqual(1);
}, 240_000);

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
