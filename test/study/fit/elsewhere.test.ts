import { describe, expect, test } from "vitest";
import { type Capture, type Fit, fitScenario, layCapture, valueSentence } from "../../../packages/sim/src/index.ts";
import { otherStarts } from "../../../packages/sim/src/study/fit/elsewhere.ts";
import { BRIEFLY, captured, captureOf, hiccupInstrument, scenarioWith } from "./bench.ts";

const OFF = "sources[0].limit.off time";
const TRIP = "crowbar.trip voltage";
const base = scenarioWith("02-hiccup-supply", {});

async function fitted(text: string, capture: Capture, free: readonly string[]): Promise<Fit> {
  const found = await fitScenario(text, "hut.yaml", capture, { free, channels: [] });
  if (found.kind === "refused") throw new Error(found.issues.map(({ message }) => message).join("; "));
  return found;
}

describe("a start far from the truth", () => {
  test.each([
    ["an off time of 160 ms", { [OFF]: "160 ms" }, [TRIP, `${OFF} = 110…450 ms`]],
    ["a trip voltage of 25 V", { [TRIP]: "25 V" }, [TRIP, OFF]],
  ])(
    "%s: found all the same",
    async (_, start, free) => {
      const found = await fitted(
        scenarioWith("02-hiccup-supply", start),
        captured(base, hiccupInstrument(1, BRIEFLY)),
        free,
      );
      expect(found.isAnother).toBe(false);
      const truth = new Map([
        ["crowbar: trip voltage", 15],
        ["station supply: limit, off time", 300],
      ]);
      for (const { label, value, error } of found.values)
        expect(Math.abs(value - truth.get(label)!)).toBeLessThan(3.5 * error);
      // It is told beside what stands in the scenario, not where the search began.
      expect(found.values.map(valueSentence).join(" ")).toContain(`(was ${Object.values(start)[0]})`);
    },
    120_000,
  );

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

const scaled = ({ time, channels }: Capture, factor: number): Capture =>
  captureOf(
    time,
    channels.map((channel) => ({ ...channel, values: channel.values.map((value) => factor * value) })),
  );

test.each([
  [0.1, 'With the values of "radio" times 10 the capture looks like the run: was the probe set to 10×?'],
  [10, 'With the values of "radio" divided by 10 the capture looks like the run'],
  [-1, 'With the values of "radio" turned over the capture looks like the run'],
])(
  "values times %f: no value, no verdict, and what may be wrong",
  async (factor, told) => {
    const found = await fitted(base, scaled(captured(base, hiccupInstrument(3, BRIEFLY)), factor), [TRIP]);
    expect(found.isAnother).toBe(true);
    expect([found.scenario, found.answer]).toEqual([null, null]);
    expect(found.misfits.join(" ")).toContain(told);
  },
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
