import { expect, test } from "vitest";
import { fitScenario } from "../../../packages/sim/src/index.ts";
import { captured, hiccupInstrument, scenarioWith } from "./bench.ts";
import { fittedSix } from "./six-values.ts";

/** The whole count, over 50 seeds, stands in test/deep. */
test("of six values fitted to a capture the intervals hold the truth", async () => {
  const { values, misfits } = await fittedSix(101);
  expect(misfits).toEqual([]);
  for (const { off } of values) expect(Math.abs(off)).toBeLessThan(3.5);
  // Fewer than five of six: three in a hundred at 95 %.
  expect(values.filter(({ isInside }) => isInside).length).toBeGreaterThanOrEqual(5);
}, 120_000);

test("an instrument with next to no noise leaves the trip voltage where it is: nothing is averaged over a sample", async () => {
  const instrument = hiccupInstrument(11);
  const channels = instrument.channels.map((channel) => ({ ...channel, noise: 0.002 }));
  const text = scenarioWith("02-hiccup-supply", { "crowbar.trip voltage": "15.2 V" });
  const capture = captured(text, { ...instrument, bits: 14, channels });
  const free = ["crowbar.trip voltage", "sources[0].limit.detection time"];
  const found = await fitScenario(scenarioWith("02-hiccup-supply", {}), "hut.yaml", capture, { free, channels: [] });
  if (found.kind === "refused") throw new Error("refused");
  const [trip, detection] = found.values.map(({ value }) => value);
  process.stderr.write(
    `MEASURED  without noise: trip voltage ${trip} V of 15.2 V, detection ${detection} ms of 3 ms\n`,
  );
  expect(Math.abs(trip! - 15.2)).toBeLessThan(0.003);
  expect(Math.abs(detection! - 3)).toBeLessThan(0.005);
}, 60_000);
