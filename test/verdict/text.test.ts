import { describe, expect, test } from "vitest";
import { renderText } from "../../packages/sim/src/report/text.ts";
import { headroomText } from "../../packages/sim/src/report/text-table.ts";
import { wrap } from "../../packages/sim/src/report/text-wrap.ts";
import { judge } from "../../packages/sim/src/verdict/judge.ts";
import { barFound, blown, context, event, fuseFound, judged, loadFound, run, trace } from "./fixtures.ts";
import { radio } from "./parts.ts";

const story = run({
  fuses: [fuseFound(blown)],
  crowbar: barFound({ firstMicrosecondRise: 200e6, peakTemperature: { value: 140, time: 0.06 } }),
  loads: [loadFound({ belowMinimum: { level: 11.7, total: 0.298, longest: 0.298, area: 3 } })],
  trace: trace([0, 0.3], { radio_V: [13.5, 0.1] }),
  events: [
    event(0.001, 0.001, "fault", "line", "the fault strikes"),
    event(
      0.001034,
      3.37e-5,
      "fires",
      "crowbar",
      "the sensed voltage has stayed above the trip point for the turn-on delay",
    ),
    event(0.065, 0.064, "melts", "main fuse", "the element has reached its melting point"),
    event(0.0650055, 5.5e-6, "open", "main fuse", "the arc can no longer be held"),
    event(
      0.06526,
      0.00026,
      "stops conducting",
      "crowbar",
      "its current has stayed below the holding current for the turn-off time",
    ),
  ],
});
const origin = {
  path: "crowbar.inductance",
  label: "branch inductance of the crowbar",
  value: "50 nH",
  source: "no source",
  mark: "assumed",
  partClass: null,
} as const;

test("one whole text, as a person reads it", () => {
  const verdict = judged(story, {
    origins: [origin, { ...origin, label: "slope resistance", mark: "published" }],
    prospective: () => 170,
  });
  expect(renderText(verdict)).toMatchInlineSnapshot(`
    "Mountain hut relay: shorted pass transistor

    The radio never saw more than 15.1 V: within its limit of 15.9 V.

    Below the minimum
      - The radio was below its minimum of 11.7 V for 298 ms; at the end it is still
        so, and stays so until somebody goes there.

    What the protection did
      - The crowbar fired once, 34 µs after the fault, with a peak of 330 A; it let
        go after 64.2 ms.
      - The main fuse (blade fuse 25 A) melted 64 ms after the fault and was open
        5.5 µs later (melting I²t 971 A²s, let-through I²t 973 A²s).

    Why
      at            later by  what happened, and why
      t = 1 ms      +1 ms     The fault strikes (shorted pass transistor in the
                              supply).
      t = 1.034 ms  +33.7 µs  The crowbar fires: the sensed voltage has stayed above
                              the trip point for the turn-on delay (15 V for 2 µs).
      t = 65 ms     +64 ms    The main fuse melts: the element has reached its
                              melting point.
      t = 65.01 ms  +5.5 µs   The main fuse is open: the arc can no longer be held.
      t = 65.26 ms  +260 µs   The crowbar stops conducting: its current has stayed
                              below the holding current for the turn-off time (80 mA
                              for 60 µs).

    What else was hurt or may burn
      - The current of the crowbar rose by 200 A/µs over its first microsecond; only
        175 A/µs is allowed, so a spot of it may have burnt: beyond what is
        published, so the outcome is unknown: it may end short or open. About 81 nH
        in its branch, or no more than about 600 nF across it, would meet it. The
        branch inductance of 50 nH is only assumed: measure it.
      - The junction of the crowbar reached 140 °C, above its limit of 125 °C but
        inside its surge ratings: it used up one of its surges (surge ratings are
        for few surges in a lifetime, each from a junction inside its limit).

    Headroom
                                            found        limit  headroom
      radio
        voltage                            15.1 V       15.9 V     ×1.05  ok
      crowbar
        RMS current over 1 ms               245 A        428 A      ×1.7  ok
        RMS current over 10 ms              148 A        389 A      ×2.6  ok
        RMS current over 100 ms              98 A        233 A      ×2.4  ok
        RMS current over 1 s                 31 A        148 A      ×4.8  ok
        current rise (first 1 µs)        200 A/µs     175 A/µs     ×0.88  UNKNOWN
        junction temperature               140 °C       125 °C     ×0.87  used up
      main fuse
        voltage to keep off                23.9 V         32 V      ×1.3  ok
        available short-circuit current     170 A         1 kA      ×5.9  ok
      lead of the supply
        copper, continuous limit          25.3 °C        70 °C      ×150  ok
        I²t (IEC 60949)                   975 A²s  342 000 A²s      ×350  ok
      lead of the radio
        copper, continuous limit          25.1 °C        70 °C      ×440  ok
        I²t (IEC 60949)                   120 A²s  134 000 A²s     >×999  ok

    Good to know
      - The main fuse is open, the supply side is not dead: up to 23.9 V stood at
        the sources.
      - The supply had up to 23.9 V at its terminals and gave up to 150 A.

    Before the next use, in this order
      1. Switch every source off, then every load.
      2. Wait, and measure 0 V on every conductor before you touch it: capacitors
         stay charged.
      3. Find the fault before replacing the fuse.
      4. Repair or replace the supply (shorted pass transistor).
      5. Replace the SCR of the crowbar: it may be damaged, nobody can say how.
      6. Replace the main fuse (blade fuse 25 A) by one of the same type and rating,
         never by a larger one.
      7. Try the protector with a newly made bench test card; the radio and all
         sources stay off.
      8. Switch the supply on and measure the voltage without the radio, then with
         it, and only then leave the line.

    Assumed, because nobody gave it
      - branch inductance of the crowbar: 50 nH (no source)

    Energy balance
      Closes: 3.0e-11 of the energy turned over is unaccounted for.

    Cautions
      - Hundreds of amperes flow in such a line: hot metal, burns, fire, thrown
        sparks. Take rings and watches off.
      - Capacitors stay charged after switching off; discharge them through a
        resistor and measure before touching.
      - A battery cannot be switched off: it feeds a short circuit until a fuse
        opens. Disconnect it first, cover its terminals, keep sparks away from its
        gases.
      - First test of any protector: from a current-limited source into a dummy
        load, never with the radio on it.
      - Local codes and licensed practice come first; what stands here replaces
        neither.
      - A verdict is a model's, with its limits: no remote sense, no return current
        through coax shields, no reverse polarity, no radio-frequency fields.
    "
  `);
});

describe("text", () => {
  const verdict = judged(story);

  test.each([50, 60, 80, 120])("keeps to a width of %i", (width) => {
    const lines = renderText(verdict, { width }).split("\n");
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(width);
  });

  test("has no colour codes unless asked, and the same words with them", () => {
    const codes = new RegExp(`${String.fromCharCode(27)}\\[\\d+m`, "g");
    const plain = renderText(verdict);
    const coloured = renderText(verdict, { colour: true });
    expect(plain).not.toMatch(codes);
    expect(coloured).toMatch(codes);
    expect(coloured.replace(codes, "")).toBe(plain);
  });

  test("a failed run never looks like a verdict", () => {
    const failure = { reason: "the step size fell below 1e-15 s", device: "clamp", remedy: "Try a looser tolerance." };
    const text = renderText(judge(run({ outcome: { status: "failed", time: 0.0123, failure } }), context));
    expect(text).toContain("No verdict: the step size fell below 1e-15 s (clamp).");
    expect(text).toContain("The run reached 12.3 ms.");
    expect(text).toContain("What to try: Try a looser tolerance.");
    expect(text).toContain("Cautions");
    expect(text).not.toMatch(/inside its window|withst|headroom|never saw|Nothing went beyond|safe/i);
  });

  test("an open energy balance is said as such", () => {
    const text = renderText(judge(run({ energy: { ...run().energy, relative: 2e-3 } }), context));
    expect(text).toContain("DOES NOT CLOSE: 2.0e-3 of the energy turned over is unaccounted for.");
  });

  test("several loads each have their line, one load is not told twice", () => {
    const loads = [radio, { ...radio, name: "pump" }];
    const text = renderText(judged(run({ loads: [loadFound(), loadFound({ name: "pump" })] }, { loads })));
    expect(text).toContain("Every load");
    expect(text).toContain("  - The pump never saw more than 15.1 V: inside its window (11.7 V to 15.9 V).");
    expect(renderText(judged(run()))).not.toContain("Every load");
  });

  test("warnings stand with their place and hint", () => {
    const position = { file: "hut.yaml", line: 7, column: 3, length: 4, excerpt: "x" };
    const warning = {
      severity: "warning",
      code: "x",
      path: "supply",
      message: "It rings.",
      received: null,
      allowed: null,
      hint: "Use more capacitance.",
      position,
    } as const;
    const text = renderText(judged(run(), { warnings: [warning, { ...warning, position: null, hint: null }] }));
    expect(text).toContain("  - hut.yaml:7: It rings. Remedy: Use more capacitance.");
    expect(text).toContain("  - supply: It rings.");
  });

  test("a quiet run says so", () => {
    const text = renderText(judged(run({ events: [] })));
    expect(text).toContain("Nothing happened in this run.");
    expect(text).toContain("Nothing went beyond its rating.");
  });
});

describe("pieces", () => {
  test("wrap keeps a number with its unit and never loses a word", () => {
    expect(wrap("carried 150 A of 175 A/µs", 14)).toBe("carried 150 A\nof 175 A/µs");
    expect(wrap("in 5 minutes", 5)).toBe("in 5\nminutes");
    expect(wrap("averyveryverylongword x", 5, "  - ", "    ")).toBe("  - averyveryverylongword\n    x");
  });

  test("headroom in the trade's words", () => {
    expect([1.3, 0.868, 449.2, 5000, 1.0005, 1.039, null].map(headroomText)).toEqual([
      "×1.3",
      "×0.87",
      "×450",
      ">×999",
      "×1.0005",
      "×1.04",
      "–",
    ]);
  });
});
