import { expect, test } from "vitest";
import { fitScenario, fitStatus } from "../../../packages/sim/src/index.ts";
import { BRIEFLY, captured, hiccupInstrument, scenarioWith } from "./bench.ts";
import { HELD_WRONG, heldWrongIsNamed } from "./claims.ts";

const OFF = "sources[0].limit.off time";
const TRIP = "crowbar.trip voltage";

test.each([
  ["sources[0].limit.ramp time", "22 ms", true],
  ["sources[0].limit.detection time", "4.5 ms", true],
  ["loads[0].input capacitance", "4 mF", false],
] as const)(
  "what a wrong value that is held leaves is no ripple: %s of %s",
  async (path, text, isAtEvents) => {
    const truth = scenarioWith("02-hiccup-supply", { [OFF]: "310 ms", [path]: text });
    const base = scenarioWith("02-hiccup-supply", {});
    const capture = captured(truth, hiccupInstrument(5, BRIEFLY));
    const found = await fitScenario(base, "hut.yaml", capture, { free: [OFF, TRIP], channels: [] });
    if (found.kind === "refused") throw new Error("refused");
    expect(fitStatus(found)).toBe(1);
    expect(found.channels.map(({ misfit }) => misfit.ripple)).toEqual([null, null]);
    const told = found.misfits.join(" ");
    expect(told).not.toMatch(/swings|ripples/);
    expect(told).toContain("a value that was not freed may differ");
    expect(told.includes("It comes with the events")).toBe(isAtEvents);
  },
  120_000,
);

/** More captures of each stand in test/deep. */
test.each(HELD_WRONG)(
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
