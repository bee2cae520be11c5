import { describe, expect, test } from "vitest";
import { type Fit, fitScenario, valueSentence } from "../../../packages/sim/src/index.ts";
import { captured, hiccupInstrument, scenarioWith } from "./bench.ts";

const OFF = "sources[0].limit.off time";
const TRIP = "crowbar.trip voltage";
const line = (values: Readonly<Record<string, string>>): string => scenarioWith("02-hiccup-supply", values);

async function fitted(real: string, free: readonly string[], seed = 1): Promise<Fit> {
  const capture = captured(real, hiccupInstrument(seed));
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

describe("a truth that lies on a bound", () => {
  test("is found, with an interval that reaches to the bound: of five captures none is told to want beyond", async () => {
    let inside = 0;
    for (let seed = 1; seed <= 5; seed++) {
      const { values } = await fitted(line({ [OFF]: "331 ms" }), [OFF, `${TRIP} = 15…16 V`], seed);
      expect(values[1]!.state).toBe("found");
      if (values[1]!.from === 15) inside++;
    }
    // 97.5 % each by the shorter of both intervals: fewer than four of five would be six in a thousand.
    expect(inside).toBeGreaterThanOrEqual(4);
  }, 240_000);
});

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
