import { describe, expect, test } from "vitest";
import { changeTexts, FitMemory, parseScenario } from "../../../packages/sim/src/index.ts";
import { valueText } from "../../../packages/sim/src/scenario/spread/index.ts";
import { unitsAt } from "../../../packages/sim/src/study/pool/counter.ts";
import { Readings } from "../../../packages/sim/src/study/pool/readings.ts";
import { scattered } from "../spread/scattered.ts";

const plain = [
  "crowbar.trip voltage: 14.9…15.9 V",
  "crowbar.sense filter: ±20 %",
  "relay radio.input capacitance: -20…+80 %",
  "station supply.output capacitance: ±20 %",
  "main fuse.cold resistance: ±10 %",
  "crowbar.ratings.surge current: ±10 %",
];

/** What must be resolved anew: much follows from these. */
const followed = ["ambient: -20…50 °C", "station supply.lead.length: 1…2 m", "main fuse.melting I2t: ±20 %"];

function readings(tolerances: readonly string[]) {
  const text = scattered(tolerances);
  const { spreads } = parseScenario(text, "hut.yaml");
  return { text, spreads, found: new Readings(text, "hut.yaml", spreads, new FitMemory()) };
}

describe.each([
  ["values that are only what they are", plain.slice(0, 5), true],
  ["values from which more follows", [...plain, ...followed], false],
  ...followed.map((line) => [line, [line], false] as const),
] as const)("%s", (_, tolerances, isShort) => {
  const { text, spreads, found } = readings(tolerances);

  test(`take the ${isShort ? "short" : "long"} way`, () => {
    expect(found.leaves !== null).toBe(isShort);
  });

  test("give the very scenario that the text with these values gives", () => {
    for (let k = 0; k < 10; k++) {
      const values = spreads.map(({ low, high }, which) => low + (high - low) * unitsAt(9, k, which)[0]);
      const written = changeTexts(text, [
        [["tolerances"], null],
        ...spreads.map(({ path, unit }, which) => [path, valueText(values[which], unit)] as const),
      ]);
      const { scenario } = parseScenario(written, "hut.yaml");
      expect(scenario).not.toBeNull();
      expect(found.at(values).scenario).toEqual(scenario);
    }
  });
});

describe("what cannot be is refused with the same reason whichever way it is read", () => {
  const messages = ({ issues }: ReturnType<Readings["at"]>) =>
    issues.filter(({ severity }) => severity === "error").map(({ message }) => message);

  test.each([
    [
      "already one of its ends alone: the long way",
      ["crowbar.trip voltage: 13…16 V", "station supply.set voltage: 13.7…15.5 V"],
      [13.2, 14.9],
      false,
    ],
    ["two values only together: the short way", ["fault at: 0.05…0.3 ms", "run for: 0.2…3 ms"], [0.25, 0.22], true],
  ] as const)("%s", (_, tolerances, values, isShort) => {
    const { spreads, found } = readings(tolerances);
    expect(spreads).toHaveLength(2);
    expect(found.leaves !== null).toBe(isShort);
    expect(found.at(values).scenario).toBeNull();
    expect(messages(found.at(values))).toEqual(messages(found.resolved(values)));
    expect(messages(found.at(values)).length).toBeGreaterThan(0);
  });
});

test("a text that cannot be read is refused at any values", () => {
  const { spreads } = readings([plain[0]!]);
  const found = new Readings("title: [", "hut.yaml", spreads, new FitMemory());
  expect(found.leaves).toBeNull();
  expect(found.at([15])).toMatchObject({ scenario: null, issues: [{ severity: "error" }] });
});
