import { expect, test } from "vitest";
import { fitScenario } from "../../../packages/sim/src/index.ts";
import { captured, hiccupInstrument, scenarioWith } from "./bench.ts";

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
