import { expect, test } from "vitest";
import { fitScenario } from "../../packages/sim/src/index.ts";
import { captured, hiccupInstrument, scenarioWith } from "../study/fit/bench.ts";
import {
  HELD_WRONG,
  heldWrongIsNamed,
  lagIsTold,
  longAfterTheFault,
  noLagIsTold,
  truthOnBound,
} from "../study/fit/claims.ts";

test("a truth that lies on a bound: of five captures none is told to want beyond", async () => {
  // 97.5 % each by the shorter of both intervals: fewer than four of five would be six in a thousand.
  expect(await truthOnBound([1, 2, 3, 4, 5])).toBeGreaterThanOrEqual(4);
});

test("a trip long after the fault: of six captures the intervals hold it", async () => {
  // Fewer than five of six: three in a hundred at 95 %.
  expect(await longAfterTheFault([10, 11, 12, 13, 14, 15])).toBeGreaterThanOrEqual(5);
});

const seeds = [11, 12, 13];

test.each(HELD_WRONG.flatMap((wrong) => seeds.map((seed) => [...wrong, seed] as const)))(
  "a value that is held and wrong is named: %j as %s, seed %i",
  heldWrongIsNamed,
);

test.each(seeds)("an instrument that lags by 0.6 samples is told, seed %i", lagIsTold);

test.each([1, 2, 3])("one that does not lag is not told to, seed %i", noLagIsTold);

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
});

test("where samples are too far apart for that, the held value is told on which an interval rests", async () => {
  const instrument = hiccupInstrument(5);
  const channels = instrument.channels.map((channel) => ({ ...channel, noise: 0.03 }));
  const slow = { ...instrument, channels, interval: 1e-3, samples: 1250, from: 0 };
  const capture = captured(scenarioWith("02-hiccup-supply", {}), slow);
  const wrong = scenarioWith("02-hiccup-supply", { "sources[0].limit.detection time": "3.3 ms" });
  const found = await fitScenario(wrong, "hut.yaml", capture, {
    free: ["sources[0].limit.off time", "crowbar.trip voltage"],
    channels: [],
  });
  if (found.kind === "refused") throw new Error("refused");
  const [, trip] = found.values;
  expect(trip!.to).toBeLessThan(15);
  expect(found.untold.join(" ")).toMatch(
    /The interval of crowbar: trip voltage holds only if station supply: limit, detection time is 3\.3 ms \(1 % more of it would move it by −0\.0\d+ V\)/,
  );
});
