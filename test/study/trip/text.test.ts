import { renderTrip, type TripStudy } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { tripData } from "../../../packages/sim/src/study/trip/figure-data.ts";
import { headlineOf } from "../../../packages/sim/src/study/trip/words.ts";
import { shippedText, studiedText } from "./lines.ts";

const hut = studiedText(shippedText("02-hiccup-supply"));

/** What is printed where the study differs in this. */
const printed = (change: Partial<TripStudy>): string => renderTrip({ ...hut, ...change }, 200);
const zener = { ...hut.settings, threshold: "zener 15 V" };

describe("the text", () => {
  test("a line without a title; a zener has no divider, so neither resistors nor what the file's trip point lands on", () => {
    const text = printed({ title: "", settings: zener, dividers: [] });
    expect(text).toMatch(/^Where to set the trip\n/);
    expect(printed({})).toMatch(/^Where to set the trip: /);
    expect(printed({})).toContain("resistors of 1 %");
    for (const words of ["resistors of", "of the line's file", "Dividers for"]) expect(text).not.toContain(words);
  });

  test("which of the two upper edges rules, and where the other lies", () => {
    const fast = { ...hut.top, worst: 15.2 };
    const slow = { ...hut.top, worst: 16.4 };
    const ruled = printed({ rules: "fast", top: fast, tops: { fast, slow } });
    expect(ruled).toContain("Upper edge: the line's fault\n");
    expect(ruled).toContain("Against a voltage that creeps up it might lie as high as 16.40 V.");
    const creeping = printed({ rules: "slow", top: slow, tops: { fast, slow } });
    expect(creeping).toContain("Upper edge: a voltage that creeps up and stays below the trip point\n");
    expect(creeping).toContain("Against the line's own fault it might lie as high as 15.20 V.");
    expect(printed({ rules: "slow", tops: { fast: null, slow } })).not.toContain("Against ");
  });

  test("a band that is none says how much is missing", () => {
    const text = printed({ band: { low: 15.5, high: 15.25 }, fits: false });
    expect(text).toMatch(/may trip between +none: 0\.25 V missing/);
    expect(text).toContain(`${hut.trip.nominal.toFixed(2)} V does not fit.`);
  });

  test("the trip point of the file fits, or does not", () => {
    const at = { ...hut.written, nominal: 15, low: 14.8, high: 15.2 };
    expect(printed({ written: { ...at, fits: true } })).toContain(
      "The 15.00 V of the line's file fits: 14.80 V to 15.20 V.",
    );
    expect(printed({ written: { ...at, fits: false } })).toContain(
      "of the line's file does not fit: 14.80 V to 15.20 V.",
    );
  });

  test("shares in millivolts below a tenth of a volt, one decimal where they are small", () => {
    const row = { name: "share", spread: true, source: "here", mark: "computed" } as const;
    const rows = [-0.0042, 0.05, 0.0996, 1.25].map((value) => ({ ...row, value }));
    const text = printed({ bottom: { ...hut.bottom, rows } });
    for (const said of ["-4.2 mV", "+50 mV", "+0.100 V", "+1.250 V"]) expect(text).toContain(said);
  });

  test("what normal service leaves: for ever, so long, or a trip; and what was not computed", () => {
    const nuisance = {
      name: "plug",
      how: "simulated",
      node: 14.5,
      sensed: 14.2,
      excess: 0.1,
      volts: 0.5,
      lasts: 0,
      timeLeft: null,
      remark: "",
    } as const;
    const said = (change: object) => /^ {2}plug .*$/m.exec(printed({ nuisances: [{ ...nuisance, ...change }] }))?.[0];
    expect(said({})).toMatch(/14\.20 V +500 mV +for ever$/);
    expect(said({ timeLeft: 12e-6 })).toMatch(/500 mV +12 µs$/);
    expect(said({ timeLeft: -1e-6 })).toMatch(/TRIPS$/);
    expect(said({ node: null, sensed: null, volts: null })).toMatch(/– +– +–$/);
    expect(printed({ nuisances: [{ ...nuisance, remark: "run at 13.80 V" }] })).toContain("· plug: run at 13.80 V");
  });

  test("dividers: fit, fit if not everything is at its worst at once, or do not", () => {
    const [pair] = hut.dividers;
    const said = (fits: boolean, fitsRss: boolean, miss: number) =>
      /^ {2}E\d\d .*$/m.exec(printed({ dividers: [{ ...pair, fits, fitsRss, miss }] }))?.[0];
    expect(said(true, true, 0.012)).toMatch(/\+12 mV .*fits$/);
    expect(said(false, true, -0.003)).toMatch(/-3 mV .*by RSS$/);
    expect(said(false, false, 0)).toMatch(/\+0 mV .*does not$/);
  });

  test.each([
    [0, "no trip."],
    [1, "1 trip."],
    [2, "2 trips."],
  ])("run at the lower end: %d firings", (firings, said) => {
    const verified = { ...hut.verified, firings };
    expect(printed({ verified })).toContain(`normal service (key, switch-on, plugs): ${said}`);
  });

  test("what could not be run at the ends is not told", () => {
    const text = printed({ verified: { firings: null, fault: null, creep: null } });
    expect(text).not.toContain("Run with the trip point at the ends of the band");
    expect(text).not.toContain("normal service (key");
  });

  test("why the line's own fault sets no edge", () => {
    expect(printed({ noFault: "no source of this line has a fault" })).toContain(
      "Note: no source of this line has a fault.",
    );
    expect(printed({ noFault: null })).not.toContain("Note: ");
  });

  test("changes: those that open a band, then those that do not, also where only two together do", () => {
    const change = { about: "opens a window of 10 mV", cost: 2, why: "", width: 0.01, gain: 0.1 };
    const one = { ...change, name: "resistors of 1 %", opens: true };
    const two = { ...change, name: "resistors of 1 % and sense filter of 10 µs", opens: true };
    const none = { ...change, name: "pick-up halved to 50 mV", about: "20 mV are still missing", opens: false };
    const single = printed({ changes: [one, none] });
    expect(single).toContain("What opens one, cheapest first\n  - Resistors of 1 % (cost 2): opens a window of 10 mV.");
    expect(single).toContain("What does not\n  - Pick-up halved to 50 mV (cost 2): 20 mV are still missing.");
    expect(printed({ changes: [two, none] })).toContain("What does not by itself\n");
    expect(printed({ changes: [none] })).not.toContain("What opens one");
    expect(printed({ changes: [] })).not.toContain("What does not");
  });
});

describe("the headline", () => {
  const said = (change: Partial<TripStudy>, triedChanges = true) => headlineOf({ ...hut, ...change }, triedChanges);
  const window = { low: 14.61, high: 14.93 };
  const trip = { ...hut.trip, nominal: 14.77, low: 14.5, high: 15.1 };

  test("a band, its middle, and a wish outside of it", () => {
    const found = { exists: true, fits: true, window, trip };
    expect(said(found)).toBe(
      "Set the trip point between 14.61 V and 14.93 V. Its middle, 14.77 V, leaves most room on both sides.",
    );
    const settings = { ...hut.settings, wanted: 15 };
    expect(said({ ...found, settings })).toBe("Set the trip point between 14.61 V and 14.93 V.");
    expect(said({ ...found, settings, fits: false })).toBe(
      "Set the trip point between 14.61 V and 14.93 V. The 15.00 V asked for may land outside.",
    );
  });

  test("a zener that lies inside", () => {
    expect(said({ exists: true, settings: zener, trip, band: { low: 14.2, high: 15.4 } })).toBe(
      "A zener 15 V into the gate trips at 14.50 V to 15.10 V, inside the band of 14.20 V to 15.40 V.",
    );
  });

  test("no band: what would open one, that nothing does, or that nothing was tried", () => {
    const none = { exists: false, existsRss: false, changes: [] };
    expect(said(none)).toBe("No trip point is right in the worst case. No change that was tried opens one.");
    expect(said(none, false)).toBe("No trip point is right in the worst case.");
    expect(said({ ...none, existsRss: true, windowRss: window }, false)).toBe(
      "No trip point is right in the worst case. By root-sum-square, where not everything is at its worst at once, 14.61 V to 14.93 V would do.",
    );
    // A zener has one trip point: there is nothing to choose.
    expect(said({ ...none, existsRss: true, settings: zener }, false)).toBe(
      "No trip point is right in the worst case.",
    );
  });
});

describe("the figure", () => {
  test.each([
    ["in the middle", { exists: true }],
    ["least wrong", { exists: false }],
    ["as wanted", { settings: { ...hut.settings, wanted: 15 } }],
    ["zener 15 V", { settings: zener }],
  ])("its trip point is called: %s", (label, change) => {
    expect(tripData({ ...hut, ...change }).points[0].label).toBe(label);
  });

  test("of a zener: neither a divider nor the file's trip point, and no resistors", () => {
    const { points, facts } = tripData({ ...hut, settings: zener, dividers: [] });
    expect(points).toHaveLength(1);
    expect(facts).toMatch(/^zener 15 V, −20 °C to /);
    expect(tripData(hut).facts).toContain(", resistors of 1 %, ");
    expect(
      tripData(hut)
        .points.map(({ label }) => label)
        .at(-1),
    ).toBe("as in the line’s file");
  });

  test("which edge rules, and a study without a title", () => {
    expect(tripData({ ...hut, rules: "fast" }).above.edge).toBe("stops the line’s fault up to");
    expect(tripData({ ...hut, rules: "slow" }).above.edge).toBe("stops a creeping voltage up to");
    expect(tripData({ ...hut, title: "" }).title).toBe("Where to set the trip");
  });
});
