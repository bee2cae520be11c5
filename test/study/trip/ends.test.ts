import { changeTexts, runScenario, type TextChange } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { longestAbove, timeToTrip } from "../../../packages/sim/src/study/trip/service.ts";
import { shippedText, studiedText } from "./lines.ts";

/** Runs a shipped line with changes made here, not by the study. */
function run(line: string, changes: readonly TextChange[]) {
  const result = runScenario(changeTexts(shippedText(line), changes), "line.yaml", { secondRun: false });
  if (result.kind === "refused") throw new Error(result.issues.map(({ message }) => message).join(" "));
  return result.run;
}

const trip = (volts: number): TextChange => [["crowbar", "trip voltage"], `${volts} V`];
const peakOf = (found: ReturnType<typeof run>): number => found.loads[0].peak.value;
const LIMIT = 15.87;

describe("at the upper end, full simulation", () => {
  test("a fast fault behind a slow filter just keeps the load within its limit; 50 mV more do not", () => {
    const { band } = studiedText(shippedText("25-filter-too-slow"));
    const peak = peakOf(run("25-filter-too-slow", [trip(band.high)]));
    expect(peak).toBeLessThanOrEqual(LIMIT);
    expect(peak).toBeGreaterThan(LIMIT - 5e-3);
    expect(peakOf(run("25-filter-too-slow", [trip(band.high + 0.05)]))).toBeGreaterThan(LIMIT);
  });

  test("the steepest ramp asked for does not pass the limit; nor does one that creeps, which would with 50 mV more", () => {
    const line = "02-hiccup-supply";
    const { band, verified } = studiedText(shippedText(line), { ramp: "40 V/ms" });
    const ramp = (slew: string): TextChange[] => [
      [["sources", 0, "fault"], `{kind: lost feedback, ceiling voltage: 22 V, slew: ${slew}}`],
    ];
    const steep = peakOf(run(line, [trip(band.high), ...ramp("40 V/ms")]));
    expect(steep).toBeLessThanOrEqual(LIMIT);
    expect(verified.fault?.peak).toBeCloseTo(steep, 3);
    const creeps = (volts: number) => peakOf(run(line, [trip(volts), ...ramp("10 V/s")]));
    expect(creeps(band.high)).toBeLessThanOrEqual(LIMIT);
    expect(creeps(band.high + 0.05)).toBeGreaterThan(LIMIT);
  });

  test("a series transistor, too", () => {
    const { band, tops } = studiedText(shippedText("11-series-transistor"));
    const at = (volts: number) =>
      peakOf(run("11-series-transistor", [[["series switch", "off voltage"], `${volts} V`]]));
    expect(at(band.high)).toBeLessThanOrEqual(LIMIT);
    const fast = tops.fast?.worst ?? Number.NaN;
    expect(at(fast)).toBeLessThanOrEqual(LIMIT);
    expect(at(fast + 0.05)).toBeGreaterThan(LIMIT);
  });
});

describe("at the lower end, full simulation", () => {
  const line = "02-hiccup-supply";
  const none: TextChange = [["sources", 0, "fault"], "none"];
  /** The supply at the most that its setting and its ripple make of it, and the pick-up that the engine does not know. */
  const highest = 13.8 * 1.01 + 0.05 + 0.1;

  test("a radio that starts and stops does not trip it, even with ripple and pick-up as a steady voltage on top", () => {
    const { band, verified } = studiedText(shippedText(line));
    expect(verified.firings).toBe(0);
    const schedule = "[{time: 20 ms, current: 21 A}, {time: 60 ms, current: 1.5 A}, {time: 90 ms, current: 21 A}]";
    const keyed: TextChange[] = [
      none,
      [["sources", 0, "set voltage"], `${highest} V`],
      [["loads", 0, "schedule"], schedule],
      [["run for"], "0.12 s"],
    ];
    const found = run(line, [trip(band.low), ...keyed]);
    expect(found.crowbar?.firings).toEqual([]);
    // Nor has it the room to be much lower: what is left is the share of the transients.
    expect(band.low - (found.crowbar?.peakSense.value ?? 0)).toBeLessThan(0.15);
  });

  test("a hot plug does not trip it", () => {
    const plug = "19-hot-plug-from-dead";
    const { band, bottom } = studiedText(shippedText(plug));
    const found = run(plug, [trip(band.low)]);
    expect(found.crowbar?.firings).toEqual([]);
    // The line's own plug, which stands in the file at another time, shows the same ringing.
    const rest = 13.3 - 0.5 * 0.03;
    const share = bottom.rows.find(({ name }) => name.startsWith("plug"))?.value ?? Number.NaN;
    expect((found.crowbar?.peakSense.value ?? 0) - rest).toBeCloseTo(share, 1);
    expect(share).toBeGreaterThan(0.2);
  });
});

describe("volts and microseconds to the trip", () => {
  test("a steady voltage above the trip point takes τ·ln((v − v0)/(v − V)) and the delay, as the engine's filter does", () => {
    expect(timeToTrip(10e-6, 2e-6, 13.8, 15, 16)).toBeNull();
    // One time constant where the step is e/(e − 1) times as high as the way.
    const step = Math.E / (Math.E - 1);
    expect(timeToTrip(10e-6, 2e-6, 14, 14 + step, 15)).toBeCloseTo(12e-6, 12);
    let filtered = 14;
    let time = 0;
    while (filtered < 15) {
      filtered += ((14 + step - filtered) / 10e-6) * 1e-9;
      time += 1e-9;
    }
    expect(time).toBeCloseTo(10e-6, 8);
  });

  test("the longest time above a level counts between samples and forgets what is shorter", () => {
    const time = Float64Array.of(0, 1, 2, 3, 4, 5, 6);
    const node = Float64Array.of(0, 2, 0, 0, 2, 2, 0);
    const found = longestAbove({ time, node, sensed: node }, 1);
    // Up at 3.5, down at 5.5; before that from 0.5 to 1.5.
    expect(found).toBeCloseTo(2, 12);
    expect(longestAbove({ time, node, sensed: node }, 3)).toBe(0);
  });

  test("each thing of normal service is told against the lowest voltage at which it may trip", () => {
    const study = studiedText(shippedText("02-hiccup-supply"));
    const names = study.nuisances.map(({ name }) => name);
    expect(names).toEqual([
      "radio stops transmitting",
      "radio starts transmitting",
      "supply is switched on",
      "plug of relay radio goes into the live line",
      "radio-frequency pick-up",
    ]);
    for (const { sensed, volts } of study.nuisances)
      expect((sensed ?? 0) + (volts ?? 0)).toBeCloseTo(study.trip.low, 9);
    expect(study.nuisances.every(({ volts }) => (volts ?? 0) > 0)).toBe(true);
  });
});
