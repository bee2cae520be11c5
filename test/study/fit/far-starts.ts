import { expect } from "vitest";
import { type Capture, type Fit, fitScenario, valueSentence } from "../../../packages/sim/src/index.ts";
import { BRIEFLY, captured, captureOf, hiccupInstrument, scenarioWith } from "./bench.ts";

const OFF = "sources[0].limit.off time";
const TRIP = "crowbar.trip voltage";
const base = scenarioWith("02-hiccup-supply", {});

export async function fitted(text: string, capture: Capture, free: readonly string[]): Promise<Fit> {
  const found = await fitScenario(text, "hut.yaml", capture, { free, channels: [] });
  if (found.kind === "refused") throw new Error(found.issues.map(({ message }) => message).join("; "));
  return found;
}

/** Starts far from the truth; the first is tried every day. */
export const FAR_STARTS: readonly (readonly [
  what: string,
  start: Readonly<Record<string, string>>,
  free: readonly string[],
])[] = [
  ["a trip voltage of 25 V", { [TRIP]: "25 V" }, [TRIP, OFF]],
  ["an off time of 160 ms", { [OFF]: "160 ms" }, [TRIP, `${OFF} = 110…450 ms`]],
];

export async function foundAllTheSame(
  _: string,
  start: Readonly<Record<string, string>>,
  free: readonly string[],
): Promise<void> {
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
}

const scaled = ({ time, channels }: Capture, factor: number): Capture =>
  captureOf(
    time,
    channels.map((channel) => ({ ...channel, values: channel.values.map((value) => factor * value) })),
  );

/** What a wrong probe makes of a capture, and what is told then; the first is tried every day. */
export const FACTORS: readonly (readonly [factor: number, told: string])[] = [
  [0.1, 'With the values of "radio" times 10 the capture looks like the run: was the probe set to 10×?'],
  [10, 'With the values of "radio" divided by 10 the capture looks like the run'],
  [-1, 'With the values of "radio" turned over the capture looks like the run'],
];

export async function scaledIsAnother(factor: number, told: string): Promise<void> {
  const found = await fitted(base, scaled(captured(base, hiccupInstrument(3, BRIEFLY)), factor), [TRIP]);
  expect(found.isAnother).toBe(true);
  expect([found.scenario, found.answer]).toEqual([null, null]);
  expect(found.misfits.join(" ")).toContain(told);
}
