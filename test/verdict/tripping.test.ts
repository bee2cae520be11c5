import { describe, expect, test } from "vitest";
import type { Cycling } from "../../packages/sim/src/model/result.ts";
import { pulseFatigue } from "../../packages/sim/src/verdict/fatigue.ts";
import { reasonsOf } from "../../packages/sim/src/verdict/reasons.ts";
import { longTime } from "../../packages/sim/src/verdict/words.ts";
import { cycling, longRun, main } from "./cyclings.ts";
import { barFound, blown, event, fuseFound, idle, judged, loadFound, run, switchFound } from "./fixtures.ts";
import { crowbar, fuse, seriesSwitch, supply } from "./parts.ts";

const firings = [0.1, 0.7, 1.3, 1.9, 2.5];
const tripping = (over: Partial<Cycling> = {}, found: Parameters<typeof run>[0] = {}) =>
  judged(run({ crowbar: barFound({ firings, stops: [], cycling: cycling(over) }), ...found }, { endTime: 3 }));

describe("repeated tripping", () => {
  test("count, period, on-time", () => {
    const [told] = tripping().tripping;
    expect(told).toMatchObject({ subject: "crowbar", count: 5, period: 0.6, onShare: 0.05, ended: false });
    expect(told?.onTime).toBeCloseTo(0.03, 12);
    expect(told?.sentence).toBe(
      "The crowbar trips again and again: 5 times in this run, in the end every 600 ms, conducting for 30 ms of it (on-time 5 %). Nothing in the line ends that.",
    );
  });

  test("long run: nothing melts and the junction settles", () => {
    expect(tripping().tripping[0]?.longRun).toEqual([
      "Estimate: the main fuse never melts, it settles 27 % of the way on average.",
      "Estimate: the junction of the crowbar settles at 47 °C on average, below its limit of 125 °C.",
    ]);
  });

  test("long run: the fuse melts and the junction passes its limit, both counted from the fault, in minutes and hours", () => {
    const estimate = longRun({
      restTemperature: 180,
      timeToJunctionLimit: 8040 - 2.499,
      fuses: [
        {
          label: fuse.label,
          subject: main,
          meanLoad: 1.4,
          restTheta: null,
          meltTime: 720.001,
          restPeak: null,
          peakMeltTime: null,
        },
      ],
    });
    expect(tripping({ longRun: estimate }).tripping[0]?.longRun).toEqual([
      "Estimate: the main fuse melts about 12 min (0.2 h) after the fault.",
      "Estimate: the junction of the crowbar passes its limit of 125 °C about 2 h 14 min after the fault and heads for 180 °C.",
    ]);
  });

  test("long run: a fuse whose mean never melts it, but whose peaks do", () => {
    const estimate = longRun({
      fuses: [
        {
          label: fuse.label,
          subject: main,
          meanLoad: 0.7,
          restTheta: 0.6,
          meltTime: null,
          restPeak: null,
          peakMeltTime: 90.001,
        },
      ],
    });
    const verdict = tripping({ longRun: estimate });
    expect(verdict.tripping[0]?.longRun[0]).toBe("Estimate: the main fuse melts about 90 s (1.5 min) after the fault.");
    expect(verdict.pending[0]?.sentence).toContain("Estimate: first the main fuse melts about 90 s (1.5 min)");
  });

  test("long run: what the estimate puts into the run has passed already", () => {
    const estimate = longRun({
      restTemperature: 180,
      timeToJunctionLimit: 0.2,
      swing: 20,
      timeToPeakLimit: 0.1,
      fuses: [
        {
          label: fuse.label,
          subject: main,
          meanLoad: 1.4,
          restTheta: null,
          meltTime: 2.9,
          restPeak: null,
          peakMeltTime: 2.8,
        },
      ],
    });
    const verdict = tripping({ longRun: estimate });
    expect(verdict.tripping[0]?.longRun).toEqual([
      "Estimate: the main fuse melts at any moment: the time for it has already passed in this run.",
      "Estimate: the junction of the crowbar has already passed its limit of 125 °C in this run and heads for 180 °C.",
      "Within each trip it goes about 20 K above that average: its peaks pass the limit of 125 °C already in this run.",
    ]);
    expect(verdict.pending[0]?.sentence).toContain("that time has already passed in this run.");
  });

  test("tells what the load sees at each trip", () => {
    const loads = [loadFound({ peakPerCycle: [14.93, 14.92] })];
    expect(tripping({}, { loads }).notes).toContain("In the last full cycle the radio saw up to 14.9 V.");
  });

  test("rounds leapt over are told with what they came to, computed; a refusal with its reason", () => {
    const leaps = [{ from: 0.5, to: 2.5, rounds: 4, period: 0.5 }];
    const notes = tripping({}, { repetition: { leaps, refusal: null } }).notes.join(" ");
    expect(notes).toContain("4 rounds, each like the one before, in the end every 500 ms, were worked out at once");
    expect(notes).toMatch(
      /Computed, 3 s .*the junction of the crowbar had reached .* \(limit 125 °C\); the main fuse had come/,
    );
    const drifts = tripping({}, { repetition: { leaps: [], refusal: "the battery moves" } }).notes;
    expect(drifts).toContain("Every round of this run was integrated one by one: the battery moves.");
  });

  test("no estimate, none told", () => {
    expect(tripping({ longRun: null }).tripping[0]?.longRun).toEqual([]);
  });

  test("ended by a fuse or by the SCR itself: no long run", () => {
    const [opened] = tripping({}, { fuses: [fuseFound({ ...blown, meltTime: 2.6, openTime: 2.61 })] }).tripping;
    expect(opened?.ended).toBe(true);
    expect(opened?.sentence).toContain("It ended when the main fuse opened.");
    expect(opened?.longRun).toEqual([]);
    const dead = barFound({ firings, cycling: cycling(), failedShort: true });
    expect(tripping({}, { crowbar: dead }).tripping[0]?.sentence).toContain("It ended when the crowbar failed short.");
  });

  test("ended by itself when nothing follows for more than two periods", () => {
    const quiet = judged(run({ crowbar: barFound({ firings, cycling: cycling() }) }, { endTime: 10 }));
    expect(quiet.tripping[0]?.sentence).toContain(
      "It ended by itself: the last trip was 7.5 s before the end of the run.",
    );
  });

  test("a reclosing switch trips by its openings and has no on-time", () => {
    const reclosing = { ...seriesSwitch, reclose: { onVoltage: 14, retryTime: 0.5 } };
    const found = switchFound({
      starts: firings,
      recloses: [0.6, 1.2],
      cycling: { period: 0.6, onShare: null, longRun: null },
    });
    const verdict = judged(
      run({ crowbar: barFound(idle), seriesSwitch: found }, { seriesSwitch: reclosing, endTime: 3 }),
    );
    expect(verdict.tripping.map(({ subject, onTime }) => [subject, onTime])).toEqual([["series switch", null]]);
    expect(verdict.tripping[0]?.sentence).toContain(
      "The series switch trips again and again: 5 times in this run, in the end every 600 ms. Nothing",
    );
    expect(verdict.done.join(" ")).toContain("began to open 5 times, first 99 ms after the fault, and reclosed twice");
  });

  test("a mid-cycle crowbar that conducts at the end is not called held on", () => {
    const verdict = judged(
      run({ crowbar: barFound({ firings, conductingAtEnd: true, cycling: cycling() }) }, { endTime: 3 }),
    );
    expect(verdict.notes.join(" ")).not.toContain("holds the crowbar on");
    expect(verdict.replace.join(" ")).not.toContain("has let go");
  });
});

describe("pulse fatigue of a fuse (published pulse charts: 22/29/38/48 % for 100 000/10 000/1000/100 pulses, at least 10 s apart)", () => {
  test.each([
    [0.1, 100_000, null],
    [0.22, 100_000, null],
    [0.25, 10_000, 100_000],
    [0.35, 1000, 10_000],
    [0.48, 100, 1000],
    [0.6, null, 100],
  ])("a share of %f", (share, least, most) => {
    expect(pulseFatigue("main fuse", { i2t: share * 200, length: 1e-3 }, 200, 20)).toMatchObject({
      atLeast: least,
      atMost: most,
      insideTable: true,
    });
  });

  test("says how long that is, and that faster pulses are outside the table", () => {
    expect(pulseFatigue("main fuse", { i2t: 70, length: 1e-3 }, 200, 20).sentence).toBe(
      "The main fuse: each trip takes 35 % of its melting I²t, so by the published pulse table it stands between 1000 and 10\u202f000 trips, that is 5 h 33 min to 56 h (2.3 days) (estimate).",
    );
    expect(pulseFatigue("main fuse", { i2t: 70, length: 1e-3 }, 200, 0.6).sentence).toContain(
      "these come every 600 ms, so it may stand fewer",
    );
  });

  test("takes the I²t of a cycle from its mean load", () => {
    // 0.2 · (30 A)² · 0.6 s = 108 A²s of 1000 A²s.
    const [{ fatigue } = { fatigue: [] }] = tripping({ onShare: 0.01 }).tripping;
    expect(fatigue[0]?.share).toBeCloseTo(0.108, 12);
    expect(fatigue[0]?.sentence).toContain("more than 100\u202f000 trips");
  });

  test("says nothing of pulses that last longer than 10 ms, or that take more than the melting I²t without melting it", () => {
    const long = tripping({ onShare: 0.05 }).tripping[0]?.fatigue[0];
    expect(long).toMatchObject({ applies: false, atLeast: null, atMost: null });
    expect(long?.sentence).toMatch(/the published pulse table says nothing of these trips, for each lasts 30 ms/);
    const hard = pulseFatigue("main fuse", { i2t: 210, length: 9e-3 }, 200, 20);
    expect(hard).toMatchObject({ applies: false, atLeast: null, atMost: null });
    expect(hard.sentence).toMatch(/each takes 105 % of its melting I²t and yet does not melt it: heat flows away/);
    expect(pulseFatigue("main fuse", { i2t: 199, length: 9e-3 }, 200, 20).applies).toBe(true);
  });

  test("a fuse without a published melting I²t has none", () => {
    const unknown = run(
      { crowbar: barFound({ firings, cycling: cycling() }) },
      { mainFuse: { ...fuse, nominalMeltingI2t: null }, endTime: 3 },
    );
    expect(judged(unknown).tripping[0]?.fatigue).toEqual([]);
  });
});

test.each([
  [48, "48 s (0.8 min)"],
  [240, "4 min (240 s)"],
  [720, "12 min (0.2 h)"],
  [3569, "59 min (0.99 h)"],
  [3599.98, "1 h"],
  [8040, "2 h 14 min"],
  [360_000, "100 h (4.2 days)"],
])("a long time of %f s is said twice", (seconds, text) => {
  expect(longTime(seconds)).toBe(text);
});

describe("why", () => {
  test("tells each event with its cause", () => {
    const reasons = reasonsOf(
      run({
        events: [
          event(0.001, 0.001, "fault", "line"),
          event(0.00103, 3e-5, "fires", "crowbar", "the sensed voltage stayed above the trip point."),
        ],
      }),
    );
    expect(reasons.map(({ sentence }) => sentence)).toEqual([
      "The fault strikes (shorted pass transistor in the supply).",
      "The crowbar fires: the sensed voltage stayed above the trip point (15 V for 2 µs).",
    ]);
  });

  test("gathers repetitions, and goes on telling what is new", () => {
    const cycle = firings.flatMap((time) => [
      event(time, 0.5, "fires", "crowbar"),
      event(time + 0.03, 0.03, "stops conducting", "crowbar"),
    ]);
    const reasons = reasonsOf(run({ events: [...cycle, event(2.6, 0.07, "melts", "main fuse")] }));
    expect(reasons.map(({ sentence }) => sentence)).toEqual([
      "The crowbar fires (15 V for 2 µs).",
      "The crowbar stops conducting (80 mA for 60 µs).",
      "The crowbar fires.",
      "The crowbar stops conducting.",
      "And so on: 6 more events of the same kinds, until here (the crowbar fires; the crowbar stops conducting).",
      "The main fuse melts.",
    ]);
    expect(reasons[4]?.time).toBeCloseTo(2.53, 12);
  });

  test.each([
    [event(1, 1, "limiter trips", "source", "", "supply"), "The limiter of the supply trips (25 A for 10 ms)."],
    [event(1, 1, "restarts", "source", "", "supply"), "The supply restarts (after 500 ms)."],
    [event(1, 1, "starts to open", "series switch"), "The series switch starts to open (at 15 V, takes 5 ms)."],
    [
      event(1, 1, "starts to open", "series switch", "the crowbar has fired"),
      "The series switch starts to open: the crowbar has fired (takes 5 ms).",
    ],
    [event(1, 1, "over-voltage shutdown", "source", "", "supply"), "The supply's own OVP shuts it down."],
    [event(1, 1, "contact opens", "source", "", "battery"), "The contact in the lead of the battery opens."],
    [event(1, 1, "melts", "in-line fuse", "", "radio 2"), "The in-line fuse of radio 2 melts."],
    [event(1, 1, "load changes", "load", "", "radio"), "The radio changes what it draws."],
    [event(1, 1, "fires", "own crowbar", "", "supply"), "The own crowbar of the supply fires (15 V for 2 µs)."],
    [event(1, 1, "drops out", "load", "", "radio"), "The radio drops out."],
    [event(1, 1, "fails short", "load clamp", "", "radio"), "The clamp at the radio fails short."],
  ])("in words: %#", (made, text) => {
    const hiccup = { style: "hiccup", current: 25, detectionTime: 0.01, offTime: 0.5, rampTime: 0.02 } as const;
    const scenario = { sources: [{ ...supply, limit: hiccup, ownCrowbar: crowbar }], seriesSwitch };
    expect(reasonsOf(run({ events: [made] }, scenario))[0]?.sentence).toBe(text);
  });
});
