import { describe, expect, test } from "vitest";
import type { HiccupOptions } from "../support/hiccup-line.ts";
import {
  alike,
  both,
  expectAlike,
  expectNone,
  expectNonePassed,
  expectWindowsFilled,
  KEYED,
  keyed,
  leapRun,
  roundsOf,
  TRIPS,
  WINDOWED,
} from "../support/leaps.ts";

const SWITCH =
  "series switch: {part: series transistor 30 A, off voltage: 14.6 V, ratings: {current: 10 A, voltage: 60 V}, reclose: {on voltage: 14.0 V, retry time: 20 ms}}";

describe("rounds that are leapt over", () => {
  test("of a plain hiccup give what integrating each of them gives", () => {
    const { leapt, whole } = both({});
    expect(roundsOf(leapt)).toBeGreaterThan(200);
    expectAlike(leapt, whole);
    expect(leapt.work.steps).toBeLessThan(whole.work.steps / 3);
  });

  test.each(["146.5 ms", "147 ms", "149.8 ms", "150 ms", "148.5 ms"])(
    "at %s off end three rounds before a fuse melts, however slowly it comes near",
    (offTime) => {
      for (const tolerance of ["default", 1e-8] as const) {
        const line = { fuse: "blade fuse 7.5 A", offTime, load: ["    current: 2 A"], endTime: 120 };
        const { fuses, repetition } = leapRun(line, { leaps: true, tolerance });
        const last = repetition.leaps.at(-1);
        expect(((fuses[0].meltTime ?? Number.NaN) - (last?.to ?? 0)) / (last?.period ?? 1)).toBeGreaterThan(3);
      }
    },
  );

  test("and turn out wrong are integrated, one by one", () => {
    // Noise of the integration, over two rounds nearly alike, becomes a slope.
    const line = { fuse: "blade fuse 7.5 A", offTime: "153 ms", load: ["    current: 2 A"], endTime: 120 };
    alike(leapRun(line, { leaps: true }).fuses[0].peakTheta, leapRun(line, { leaps: false }).fuses[0].peakTheta, 1e-4);
  });

  test("end before a junction's peaks pass its limit, and before its mean does", () => {
    const hot = `{part: SCR 55 A, ${TRIPS}, case to ambient: 30 K/W, case heat capacity: 0.5 J/K}`;
    const { leapt, whole } = both({ crowbar: hot });
    expectAlike(leapt, whole);
    expect(leapt.crowbar?.peakTemperature.value).toBeGreaterThan(125);
    const { leaps } = leapt.repetition;
    expect(leaps.length).toBeGreaterThanOrEqual(3);
    // Between two leaps the junction has passed its limit: before it a run that ends there stays below, after it not.
    const at = (time: number) =>
      leapRun({ crowbar: hot, endTime: time }, { leaps: false }).crowbar?.peakTemperature.value;
    expect(at(leaps[0].to)).toBeLessThan(125);
    expect(at(leaps[1].from)).toBeGreaterThan(125);
  });

  test.each<[string, HiccupOptions]>([
    ["the crowbar", { crowbar: WINDOWED }],
    ["a supply's own crowbar", { crowbar: null, supply: [`    own crowbar: ${WINDOWED}`] }],
    [
      "the crowbar beside a radio that is keyed",
      { crowbar: WINDOWED, load: ["    schedule: [{time: 34 s, current: 3 A}]"] },
    ],
  ])("fill every surge window of %s, however many of them it spans", (_, options) => {
    expectWindowsFilled(options);
  });

  test("of two protectors that trip together give what integrating gives", () => {
    const { leapt, whole } = both({ line: [SWITCH], endTime: 32 });
    expect(roundsOf(leapt)).toBeGreaterThan(150);
    expectAlike(leapt, whole);
    for (const key of ["starts", "opens", "recloses"] as const) {
      expect(leapt.seriesSwitch?.[key].length).toBe(whole.seriesSwitch?.[key].length);
      whole.seriesSwitch?.[key].forEach((time, k) => {
        alike(leapt.seriesSwitch?.[key][k], time);
      });
    }
    const [a, b] = [leapt, whole].map(({ seriesSwitch }) => seriesSwitch);
    expect(b?.overload?.most).toBeGreaterThan(0);
    for (const key of ["most", "mostNear"] as const) alike(a?.overload?.[key], b?.overload?.[key]);
    alike(a?.openVoltage ?? undefined, b?.openVoltage ?? undefined);
  });

  test("that end where a radio is keyed come to the same as each of them", () => {
    const { leapt, whole } = both({ load: keyed(KEYED), endTime: 34 });
    expectNonePassed(leapt, KEYED);
    expect(leapt.crowbar?.firings.length).toBe(whole.crowbar?.firings.length);
    alike(leapt.crowbar?.endTemperature, whole.crowbar?.endTemperature, 5e-6, 25);
  });

  test("are none where the mains do not keep step", () => {
    const ripple =
      "{raw voltage: 24 V, raw resistance: 60 mohm, capacitance: 50 mF, ripple: yes, mains frequency: 50 Hz}";
    expectNone(
      { supply: [`    reservoir: ${ripple}`], endTime: 24 },
      /the phase of the mains of station supply moves on/,
    );
  });

  test("are none for a set voltage that creeps", () => {
    expectNone(
      {
        fault: "{kind: lost feedback, ceiling voltage: 40 V, slew: 1 V/min}",
        crowbar: "{part: SCR 55 A, trip voltage: 14.0 V, sense filter: fast}",
        endTime: 40,
      },
      /the voltage that station supply aims at moves on/,
    );
  });
});
