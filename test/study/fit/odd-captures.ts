import { expect } from "vitest";
import { normals } from "../../../packages/sim/scripts/instrument.ts";
import { type Capture, fitHeadline, fitScenario, fitStatus } from "../../../packages/sim/src/index.ts";
import { captured, captureOf, hiccupInstrument, scenarioWith } from "./bench.ts";
import { fittedHiccup } from "./claims.ts";

export const HICCUP_FREE = ["crowbar.trip voltage", "sources[0].limit.off time"];
/** What helps where times are in another unit than the file says. */
export const HINT = "write the unit of its times into the head of their column";

const quietTime = Float64Array.from({ length: 4000 }, (_, k) => k * 0.25e-3);
/** A level and noise, a step of an instrument being 94 mV. */
export function noise(level: number): Capture {
  const gauss = normals(4);
  return captureOf(quietTime, [
    { name: "radio", unit: "V", values: quietTime.map(() => Math.round((level + 0.05 * gauss()) / 0.094) * 0.094) },
  ]);
}

export async function quietIsTold(level: number): Promise<void> {
  const found = await fittedHiccup(noise(level), HICCUP_FREE);
  expect(found).toMatchObject({ isQuiet: true, isAnother: false, scenario: null });
  expect(found.shift.plusMinus).toBe(Number.POSITIVE_INFINITY);
  expect(fitHeadline(found)).toBe("The capture shows no event, and tells no value.");
  expect(found.untold.slice(0, 2)).toEqual([
    "The capture shows no event: nothing in it stands out of its noise.",
    "This capture does not tell when in the run it begins.",
  ]);
  expect(found.values.map(({ state }) => state)).toEqual(["untold", "untold"]);
  expect(fitStatus(found)).toBe(1);
}

/** A hiccup whose times are written this many times too large. */
export function timesBy(by: number): Capture {
  const real = captured(scenarioWith("02-hiccup-supply", {}), hiccupInstrument(1));
  return captureOf(
    real.time.map((t) => by * t),
    real.channels,
  );
}

export async function tooShortIsAnother(): Promise<void> {
  const found = await fittedHiccup(timesBy(1e-3), HICCUP_FREE);
  expect(found.isAnother).toBe(true);
  expect(found.misfits.join(" ")).toContain(HINT);
}

const OFF = "sources[0].limit.off time";
const RAMP = "sources[0].limit.ramp time";
/** Off time and ramp time that the logger of `loggedEvery` saw, ms. */
export const LOGGED = [311, 21] as const;

/** A hiccup as a logger sees it, with a sample each `interval` seconds. */
export async function loggedEvery(interval: number) {
  const truth = scenarioWith("02-hiccup-supply", { [OFF]: `${LOGGED[0]} ms`, [RAMP]: `${LOGGED[1]} ms` });
  const samples = Math.round(1.8 / interval);
  const capture = captured(truth, hiccupInstrument(3, { interval, samples }));
  return fitScenario(scenarioWith("02-hiccup-supply", {}), "hut.yaml", capture, { free: [OFF, RAMP], channels: [] });
}
