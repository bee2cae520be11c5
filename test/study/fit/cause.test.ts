import { expect, test } from "vitest";
import { fitScenario } from "../../../packages/sim/src/index.ts";
import { captured, hiccupInstrument, scenarioWith } from "./bench.ts";
import { HELD_WRONG, heldWrongIsNamed } from "./claims.ts";

const OFF = "sources[0].limit.off time";
const TRIP = "crowbar.trip voltage";

/** The other one, and more captures of each, stand in test/deep. */
test.each(HELD_WRONG.slice(0, 1))(
  "a value that is held and wrong is named where the capture knows better: %j",
  (change, named) => heldWrongIsNamed(change, named, 11),
  120_000,
);

test("where samples are too far apart for that, the held value is told on which an interval rests", async () => {
  const instrument = hiccupInstrument(5);
  const channels = instrument.channels.map((channel) => ({ ...channel, noise: 0.03 }));
  const slow = { ...instrument, channels, interval: 1e-3, samples: 1250, from: 0 };
  const capture = captured(scenarioWith("02-hiccup-supply", {}), slow);
  const wrong = scenarioWith("02-hiccup-supply", { "sources[0].limit.detection time": "3.3 ms" });
  const found = await fitScenario(wrong, "hut.yaml", capture, { free: [OFF, TRIP], channels: [] });
  if (found.kind === "refused") throw new Error("refused");
  const [, trip] = found.values;
  expect(trip!.to).toBeLessThan(15);
  expect(found.untold.join(" ")).toMatch(
    /The interval of crowbar: trip voltage holds only if station supply: limit, detection time is 3\.3 ms \(1 % more of it would move it by −0\.0\d+ V\)/,
  );
}, 60_000);
