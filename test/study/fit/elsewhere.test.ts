import { describe, expect, test } from "vitest";
import { layCapture, valueSentence } from "../../../packages/sim/src/index.ts";
import { otherStarts } from "../../../packages/sim/src/study/fit/elsewhere.ts";
import { captured, captureOf, scenarioWith } from "./bench.ts";
import { FACTORS, FAR_STARTS, fitted, foundAllTheSame, scaledIsAnother } from "./far-starts.ts";

const TRIP = "crowbar.trip voltage";

describe("a start far from the truth", () => {
  /** More of them stand in test/deep. */
  test.each(FAR_STARTS.slice(0, 1))("%s: found all the same", foundAllTheSame, 120_000);

  test("other starts are spread over the bounds, one value at a time", () => {
    const common = { path: [], label: "", dimension: "time", unit: "s" } as const;
    const starts = otherStarts([
      { ...common, nominal: 5, low: 1, high: 32 },
      { ...common, nominal: 0, low: -5, high: 5 },
    ]);
    const expected = [
      [2 ** 0.5, 0],
      [2 ** 1.5, 0],
      [2 ** 3.5, 0],
      [2 ** 4.5, 0],
      [5, -4],
      [5, -2],
      [5, 2],
      [5, 4],
    ];
    for (const [k, start] of starts.entries())
      for (const [j, value] of start.entries()) expect(value).toBeCloseTo(expected[k]![j]!, 9);
    expect(starts).toHaveLength(8);
  });
});

/** Other factors stand in test/deep. */
test.each(FACTORS.slice(0, 1))(
  "values times %f: no value, no verdict, and what may be wrong",
  scaledIsAnother,
  120_000,
);

describe("a capture that ends before the trip", () => {
  const shorted = scenarioWith("01-shorted-pass-transistor", {});
  const whole = captured(shorted, {
    from: 0.0199,
    interval: 4e-7,
    samples: 700,
    bandwidth: 2e7,
    bits: 8,
    seed: 4,
    channels: [
      { column: "relay_radio_V", name: "radio", unit: "V", range: [-4, 20], noise: 0.05, offset: 0, skew: 0 },
      { column: "crowbar_A", name: "crowbar", unit: "A", range: [-100, 900], noise: 1, offset: -1.6, skew: 0 },
    ],
  });
  const [radio] = whole.channels;
  const fired = radio!.values.indexOf(Math.max(...radio!.values));
  const until = fired - 3;
  const before = captureOf(
    whole.time.slice(0, until),
    whole.channels.map((channel) => ({ ...channel, values: channel.values.slice(0, until) })),
  );

  test.each(["= 14…16 V", "= 5…45 V"])(
    "tells a trip voltage only from below, within bounds %s",
    async (bounds) => {
      const found = await fitted(shorted, before, [`${TRIP} ${bounds}`]);
      const [trip] = found.values;
      expect(trip!.state).toBe("untold");
      expect(trip!.from).toBeGreaterThan(14.4);
      expect(trip!.from).toBeLessThan(15);
      expect(trip!.to).toBe(trip!.high);
      expect(found.untold[0]).toMatch(
        /^This capture tells of crowbar: trip voltage only that it is about 14\.\d V at least\.$/,
      );
      expect(valueSentence(trip!)).toMatch(/^crowbar: trip voltage: about 14\.\d V at least; left at 15 V\.$/);
    },
    120_000,
  );

  test("a current that a range of 1000 A shows 1.6 A off is no misfit while nothing flows", async () => {
    const laid = await layCapture(shorted, "hut.yaml", before, { channels: [] });
    if (laid.kind === "refused") throw new Error("refused");
    expect(laid.misfits).toEqual([]);
  }, 60_000);
});
