import { describe, expect, test } from "vitest";
import { clampFound, event, finding, judged, run, switchFound } from "./fixtures.ts";
import { clamp, lead, seriesSwitch, supply } from "./parts.ts";

describe("an arc that still burns when the run ends", () => {
  const contact = {
    resistance: 0.001,
    arcVoltage: 15,
    extinctionCurrent: 0.1,
    initially: "closed",
    operations: [{ time: 0.01, action: "open" }],
  } as const;
  const opened = (time: number) =>
    finding(
      judged(
        run(
          { events: [event(time, time - 0.001, "contact opens", "source", "", "supply")] },
          { sources: [{ ...supply, lead: { ...lead, contact } }] },
        ),
      ),
      "contact of the supply",
      "arc still burning",
    );

  test("in a contact: held after a tenth of a second, unknown before", () => {
    // The run ends at 0.3 s.
    const [old, young] = [opened(0.1999), opened(0.2001)];
    expect([old.severity, old.hazard, old.found]).toEqual(["beyond", "fire", 0.3 - 0.1999]);
    expect(old.sentence).toBe(
      "The contact in the lead of the supply still draws an arc 100 ms after it opened: it does not break this current. Fire hazard.",
    );
    expect([young.severity, young.hazard]).toEqual(["unknown", null]);
    expect(young.sentence).toContain("give the run more time to see whether it ends.");
    expect([young.rating, young.headroom, young.close]).toEqual([null, null, false]);
  });

  const switched = (start: number, kind: "relay" | "transistor") =>
    judged(
      run(
        { crowbar: null, seriesSwitch: switchFound({ state: "clearing", starts: [0.0011, start], opens: [] }) },
        { crowbar: null, seriesSwitch: { ...seriesSwitch, kind } },
      ),
    );

  test("in a series switch: by the last opening", () => {
    const old = finding(switched(0.1999, "relay"), "series switch", "arc still burning");
    expect([old.severity, old.hazard]).toEqual(["beyond", "fire"]);
    const young = finding(switched(0.2001, "relay"), "series switch", "arc still burning");
    expect([young.severity, young.hazard]).toEqual(["unknown", null]);
    expect(young.sentence).toBe(
      "The series switch is still clearing when the run ends: give the run more time to see whether it opens.",
    );
    expect([young.rating, young.headroom, young.close]).toEqual([null, null, false]);
  });

  test("of a transistor it is its avalanche", () => {
    const verdict = switched(0.15, "transistor");
    expect(finding(verdict, "series switch", "still in avalanche").sentence).toBe(
      "The series switch opened but it still conducts in avalanche, 150 ms after its opening began: it does not break this current. Fire hazard.",
    );
    expect(verdict.exitStatus).toBe(4);
  });
});

describe("what the series switch did", () => {
  const said = (over: Parameters<typeof switchFound>[0], spec = seriesSwitch) =>
    judged(run({ crowbar: null, seriesSwitch: switchFound(over) }, { crowbar: null, seriesSwitch: spec }));

  test("more than once, and reclosed", () => {
    expect(said({ starts: [0.0011, 0.05, 0.1], recloses: [0.04, 0.09], state: "closed" }).done[0]).toBe(
      "The series switch began to open 3 times, first 100 µs after the fault, and reclosed twice; at the end it is closed.",
    );
  });

  test("a voltage that no arc explains is judged whole, one just explained is not", () => {
    const kept = (peakVoltage: number) =>
      finding(said({ peakVoltage, peakCurrent: 0, openVoltage: 12 }), "series switch", "voltage to keep off").found;
    // Its arc takes 15 V; a thousandth more is rounding.
    expect(kept(14.99)).toBe(14.99);
    expect(kept(15)).toBe(12);
    expect(kept(15.014)).toBe(12);
    expect(kept(15.016)).toBe(15.016);
  });

  test("says what it had to keep off against its rating, or that none is known", () => {
    const keeping = (voltage: number | null, peakVoltage = 14) =>
      finding(
        said({ peakVoltage }, { ...seriesSwitch, ratings: { current: null, voltage } }),
        "series switch",
        "voltage to keep off",
      ).sentence;
    expect(keeping(30)).toBe("The series switch had 14 V to keep off; its rating is 30 V.");
    expect(keeping(null)).toBe("The series switch had 14 V to keep off; no rating is known.");
    expect(keeping(13)).toBe("The series switch had 14 V to keep off, above its rating of 13 V: replace it.");
  });
});

describe("a clamp", () => {
  const clamped = (over: Parameters<typeof clampFound>[0], spec = clamp) =>
    judged(run({ clamp: clampFound(over) }, { clamp: spec }));

  test("says what it took and what it stands", () => {
    const sentences = (spec: typeof clamp) =>
      clamped({}, spec)
        .findings.filter(({ subject }) => subject === "clamp")
        .map(({ sentence }) => sentence);
    expect(sentences(clamp)).toEqual([
      "The clamp took 500 mJ; its rating is 2 J.",
      "The clamp carried 20 A; its rating is 70 A.",
      "The clamp reached 85 °C; its rating is 150 °C.",
    ]);
    const unrated = { ...clamp, ratings: { energy: 2, peakCurrent: null, temperature: null } };
    expect(sentences(unrated).slice(1)).toEqual([
      "The clamp carried 20 A; no rating is known.",
      "The clamp reached 85 °C; no rating is known.",
    ]);
  });

  test("beyond its energy: short where it failed so, else nobody knows", () => {
    expect(finding(clamped({ energy: 3 }), "clamp", "energy").sentence).toBe(
      "The clamp took 3 J; its rating is 2 J: the outcome is unknown: it may end short or open.",
    );
    const short = clamped({ failedShort: true, failTime: null, energy: 2.5 });
    const energy = finding(short, "clamp", "energy");
    expect([energy.found, energy.headroom, energy.severity, energy.hazard]).toEqual([2, 1, "beyond", "fire"]);
    expect(energy.sentence).toContain("rating of 2 J and failed short");
    expect(short.done).toContain("The clamp took up to 20 A and 2.5 J in all and failed short.");
  });
});
