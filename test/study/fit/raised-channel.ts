import { expect } from "vitest";
import { type Capture, fitScenario, fitStatus } from "../../../packages/sim/src/index.ts";
import { captured, captureOf, hiccupInstrument, scenarioWith } from "./bench.ts";

const truth = {
  "sources[0].limit.off time": 331,
  "sources[0].limit.ramp time": 22,
  "sources[0].limit.current": 32,
  "crowbar.trip voltage": 15.2,
};
const real = scenarioWith("02-hiccup-supply", {
  "sources[0].limit.off time": "331 ms",
  "sources[0].limit.ramp time": "22 ms",
  "sources[0].limit.current": "32 A",
  "crowbar.trip voltage": "15.2 V",
});

const raised = ({ time, channels }: Capture, which: number, by: number): Capture =>
  captureOf(
    time,
    channels.map((channel, c) => ({ ...channel, values: channel.values.map((v) => (c === which ? v + by : v)) })),
  );

/** A capture with one channel moved by so many volts: its values are found near the truth, or a misfit is told. */
export async function raisedChannel(which: number, by: number, seed: number): Promise<void> {
  const capture = raised(captured(real, hiccupInstrument(seed)), which, by);
  const base = scenarioWith("02-hiccup-supply", {});
  const found = await fitScenario(base, "hut.yaml", capture, { free: Object.keys(truth), channels: [] });
  if (found.kind === "refused") throw new Error(found.issues.map(({ message }) => message).join("; "));
  const off = found.values.map(({ value, error }, k) => Math.abs(value - Object.values(truth)[k]!) / error);
  if (fitStatus(found) === 0) expect(Math.max(...off)).toBeLessThan(5);
  // A zero is found along with the values, as far as it is one.
  expect(off[0]).toBeLessThan(5);
}
