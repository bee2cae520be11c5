import { describe, expect, test } from "vitest";
import { barFound, blown, finding, fuseFound, idle, judged, run, sourceFound, trace } from "./fixtures.ts";
import { battery, crowbar, fuse, lead, supply } from "./parts.ts";

describe("crowbar", () => {
  const bar = (over: Parameters<typeof barFound>[0]) => judged(run({ crowbar: barFound(over) }));

  test("inside its ratings: nothing hurt, headroom stated", () => {
    const verdict = bar({});
    expect(finding(verdict, "crowbar", "RMS current over 10 ms").headroom).toBeCloseTo(389 / 148, 10);
    expect(finding(verdict, "crowbar", "junction temperature").headroom).toBeCloseTo(100 / 79.6, 10);
    expect(verdict.done[0]).toBe(
      "The crowbar fired once, 34 µs after the fault, with a peak of 330 A; it let go after 64.2 ms.",
    );
    expect(verdict.exitStatus).toBe(0);
  });

  test("above its junction limit inside the surge ratings: used up one surge, still status 0", () => {
    const verdict = bar({ peakTemperature: { value: 140, time: 0.065 } });
    const hot = finding(verdict, "crowbar", "junction temperature");
    expect(hot.severity).toBe("used up");
    expect(hot.sentence).toContain(
      "reached 140 °C, above its limit of 125 °C but inside its surge ratings: it used up one of its surges",
    );
    expect(verdict.exitStatus).toBe(0);
    expect(verdict.replace).toContain(
      "Test the SCR of the crowbar (blocking and trip voltage): it used up one of its surges.",
    );
  });

  test("counts the trips", () => {
    const verdict = bar({
      firings: [0.01, 0.1, 0.2],
      stops: [0.02, 0.11],
      peakTemperature: { value: 140, time: 0.21 },
    });
    expect(finding(verdict, "crowbar", "junction temperature").sentence).toContain(
      "3 trips, each of which may have used up one of its surges",
    );
    expect(verdict.done[0]).toContain("fired 3 times, first 9 ms after the fault");
  });

  test("beyond a surge window: outcome unknown, status 4", () => {
    const worstWindows = barFound().worstWindows.map((each) => (each.duration === 0.1 ? { ...each, rms: 240 } : each));
    const verdict = bar({ worstWindows, peakTemperature: { value: 140, time: 0.065 } });
    expect(finding(verdict, "crowbar", "RMS current over 100 ms").severity).toBe("unknown");
    expect(finding(verdict, "crowbar", "RMS current over 100 ms").sentence).toContain(
      "the outcome is unknown: it may end short or open",
    );
    expect(finding(verdict, "crowbar", "junction temperature").severity).toBe("unknown");
    expect(verdict.exitStatus).toBe(4);
  });

  test("a figure that is missing or no number is never taken as kept", () => {
    const verdict = bar({ worstWindows: [] });
    expect(finding(verdict, "crowbar", "RMS current over 10 ms").severity).toBe("unknown");
    expect(verdict.exitStatus).toBe(4);
  });

  test("hot long after the last surge window: no surge rating covers that", () => {
    const verdict = bar({ conductingAtEnd: true, stops: [], peakTemperature: { value: 140, time: 60 } });
    expect(finding(verdict, "crowbar", "junction temperature").severity).toBe("unknown");
  });

  test("still conducting above its limit after the last surge window: the same, wherever its peak was", () => {
    const found = {
      conductingAtEnd: true,
      stops: [],
      peakTemperature: { value: 190, time: 0.01 },
      endTemperature: 130,
    };
    const verdict = judged(run({ crowbar: barFound(found) }, { endTime: 60 }));
    expect(finding(verdict, "crowbar", "junction temperature").severity).toBe("unknown");
  });

  test("failed short", () => {
    const verdict = bar({
      failedShort: true,
      conductingAtEnd: true,
      stops: [],
      peakTemperature: { value: 900, time: 0.2 },
    });
    expect(finding(verdict, "crowbar", "junction temperature").sentence).toContain(
      "counts as failed: it ended as a short circuit",
    );
    expect(finding(verdict, "crowbar", "junction temperature").found).toBe(250);
    const [first] = verdict.findings;
    expect([first?.subject, first?.quantity]).toEqual(["crowbar", "junction temperature"]);
    expect(verdict.replace).toContain("Replace the SCR of the crowbar: it failed short.");
    expect(verdict.exitStatus).toBe(4);
  });

  test("of an SCR that failed short nobody says that its outcome is unknown", () => {
    const worstWindows = [{ duration: 0.01, i2t: 2500, rms: 500 }];
    const surge = finding(bar({ failedShort: true, worstWindows }), "crowbar", "RMS current over 10 ms");
    expect(surge.severity).toBe("beyond");
    expect(surge.sentence).toBe(
      "The crowbar carried 500 A RMS over the worst 10 ms after a firing, above its surge rating of 389 A.",
    );
    expect(finding(bar({ worstWindows }), "crowbar", "RMS current over 10 ms").sentence).toContain(
      "outcome is unknown",
    );
  });

  test("just beyond a rating, both are told with as many digits as keep them apart", () => {
    const limit = crowbar.ratings.surgeWindows[1];
    const rms = limit.rms * (1 + 2e-4);
    const worstWindows = [{ duration: limit.duration, i2t: rms ** 2 * limit.duration, rms }];
    const [, carried, rating] =
      /carried ([\d.]+) A RMS .* its surge rating is ([\d.]+) A:/.exec(
        finding(bar({ worstWindows }), "crowbar", "RMS current over 10 ms").sentence,
      ) ?? [];
    expect(Number(carried)).toBeGreaterThan(Number(rating));
  });

  test("current rise: names what would meet the rating, and that the inductance is only assumed", () => {
    const { sentence, severity } = finding(
      bar({ firstMicrosecondRise: 200e6 }),
      "crowbar",
      "current rise (first 1 µs)",
    );
    expect(severity).toBe("unknown");
    expect(sentence).toMatch(/About \d+ nH in its branch, or no more than about \d+ nF across it, would meet it\./);
    expect(sentence).toContain("The branch inductance of 50 nH is only assumed: measure it.");
    const known = run(
      { crowbar: barFound({ firstMicrosecondRise: 200e6 }) },
      { crowbar: { ...crowbar, inductanceAssumed: false } },
    );
    expect(finding(judged(known), "crowbar", "current rise (first 1 µs)").sentence).not.toContain("assumed");
  });

  test("without a published rating the rise is not judged", () => {
    const unknown = run({}, { crowbar: { ...crowbar, ratings: { ...crowbar.ratings, currentRise: null } } });
    const rise = finding(judged(unknown), "crowbar", "current rise (first 1 µs)");
    expect([rise.severity, rise.headroom]).toEqual(["not rated", null]);
    expect(rise.sentence).toContain("no rating is known");
  });

  test("never fired: no limit is judged, the sensed voltage is told", () => {
    const verdict = bar(idle);
    expect(verdict.findings.filter(({ subject }) => subject === "crowbar")).toEqual([]);
    expect(verdict.done[0]).toBe("The crowbar never fired: behind its filter it saw 13.7 V, it trips at 15 V.");
  });

  test("held on for ever by a limiting supply: says when the junction passes its limit", () => {
    const held = { conductingAtEnd: true, stops: [], peakTemperature: { value: 60, time: 60 }, endTemperature: 60 };
    const columns = trace([0, 60], { radio_V: [13.5, 1.2], crowbar_A: [0, 30] });
    const verdict = judged(run({ crowbar: barFound(held), trace: columns }, { endTime: 60 }));
    // P = (0.9 + 0.18)·30 = 32.4 W; rest 25 + 32.4·5.5 = 203.2 °C; 162·exp(−t/100 s) from 143.2 K below rest to 78.2 K below it: 60.5 s.
    expect(verdict.pending[0]?.sentence).toContain(
      "its junction passes its limit of 125 °C 2 min (120 s) after the fault",
    );
    expect(verdict.pending[0]?.sentence).toContain("and heads for 203 °C");
    expect(verdict.replace).toContain("Switch every source off until the crowbar has let go: it still conducts.");
  });

  test("a supply's own SCR has its own findings and capacitor", () => {
    const own = { ...supply, ownCrowbar: crowbar };
    const verdict = judged(
      run(
        { crowbar: null, ownCrowbars: [{ source: "supply", findings: barFound({ firstMicrosecondRise: 400e6 }) }] },
        { sources: [own], crowbar: null },
      ),
    );
    expect(finding(verdict, "own crowbar of the supply", "current rise (first 1 µs)").sentence).toContain(
      "The current of the own crowbar of the supply rose",
    );
  });
});

describe("fuse", () => {
  const fused = (
    over: Parameters<typeof fuseFound>[0],
    prospective: ((index: number) => number | null) | null = null,
  ) => judged(run({ fuses: [fuseFound(over)] }), { prospective });

  test("one that did its work is no damage, its arc above the rating neither", () => {
    const verdict = fused(blown, () => 170);
    expect(verdict.exitStatus).toBe(0);
    expect(finding(verdict, "main fuse", "voltage to keep off").found).toBe(23.9);
    expect(verdict.done[1]).toBe(
      "The main fuse (blade fuse 25 A) melted 64 ms after the fault and was open 5.5 µs later (melting I²t 971 A²s, let-through I²t 973 A²s).",
    );
    expect(verdict.replace.slice(0, 2)).toEqual([
      "Find the fault before replacing the fuse.",
      "Repair or replace the supply (shorted pass transistor).",
    ]);
    expect(verdict.replace.at(-1)).toContain("Replace the main fuse (blade fuse 25 A) by one of the same type");
    expect(verdict.notes[0]).toContain("the supply side is not dead: up to 23.9 V stood at the sources");
  });

  test("one that does not melt has no melting or let-through figure", () => {
    const verdict = fused({});
    expect(verdict.done[1]).toBe("The main fuse (blade fuse 25 A) did not melt: it came 30 % of the way.");
    expect(finding(verdict, "main fuse", "way to melting").headroom).toBeCloseTo(1 / 0.3, 10);
    expect(JSON.stringify(verdict)).not.toContain("let-through");
  });

  test("a held arc is a fire hazard", () => {
    const verdict = fused({ ...blown, state: "clearing", openTime: null, peakVoltage: 9 });
    const arc = finding(verdict, "main fuse", "arc still burning");
    expect(arc.sentence).toBe(
      "The main fuse melted but never cleared: the source holds its arc (235 ms at the end of the run). Fire hazard.",
    );
    expect(verdict.exitStatus).toBe(4);
  });

  test("a run that ends a moment after melting says that it is too short to know", () => {
    const verdict = fused({ ...blown, meltTime: 0.299, state: "clearing", openTime: null });
    expect(finding(verdict, "main fuse", "arc still burning").severity).toBe("unknown");
    expect(finding(verdict, "main fuse", "arc still burning").sentence).toContain("give the run more time");
  });

  test("voltage beyond its rating once open", () => {
    const low = { ...fuse, ratedVoltage: 20, arcVoltage: 22 };
    const verdict = judged(run({ fuses: [fuseFound({ ...blown, peakVoltage: 24.5 })] }, { mainFuse: low }));
    expect(finding(verdict, "main fuse", "voltage to keep off").sentence).toContain(
      "is rated 20 V but had 24.5 V to keep off: it may arc again",
    );
    expect(verdict.exitStatus).toBe(4);
  });

  test("where the trace does not hold both its sides, the highest source bounds it and nothing more is claimed", () => {
    const low = { ...fuse, ratedVoltage: 20, arcVoltage: 30 };
    const verdict = judged(run({ fuses: [fuseFound({ ...blown, peakVoltage: 30 })] }, { mainFuse: low }));
    const keep = finding(verdict, "main fuse", "voltage to keep off");
    expect([keep.severity, keep.found]).toEqual(["unknown", 23.9]);
    expect(keep.sentence).toContain("may have had 23.9 V to keep off");
  });

  test("available short-circuit current: by a second run where there is one", () => {
    const asked: number[] = [];
    const verdict = fused(blown, (index) => {
      asked.push(index);
      return 1400;
    });
    expect(asked).toEqual([0]);
    const current = finding(verdict, "main fuse", "available short-circuit current");
    expect(current.severity).toBe("beyond");
    expect(current.sentence).toBe(
      "The main fuse faced 1.4 kA (by a second run in which it cannot melt) but it is able to break 1 kA: it may burst or go on burning. Fire hazard.",
    );
  });

  test("and by this run where none was made", () => {
    expect(finding(fused(blown), "main fuse", "available short-circuit current").sentence).toContain(
      "150 A (the largest current of this run, no second run without it was made)",
    );
  });

  test("a whole fuse had nothing to break: no second run, and a word only beyond its breaking capacity", () => {
    const asked: number[] = [];
    const whole = fused({}, (index) => asked.push(index));
    expect(asked).toEqual([]);
    expect(whole.findings.filter(({ subject }) => subject === "main fuse").map(({ quantity }) => quantity)).toEqual([
      "way to melting",
    ]);
    const current = finding(fused({ peakCurrent: 1200 }), "main fuse", "largest current of the run");
    expect(current.severity).toBe("beyond");
    expect(current.sentence).toBe(
      "The main fuse carried 1.2 kA but is able to break 1 kA: had it melted, it might have burst or gone on burning. Fire hazard.",
    );
  });

  test("a fuse that could not clear is not replaced by another of its kind", () => {
    expect(fused(blown).replace.at(-1)).toBe(
      "Replace the main fuse (blade fuse 25 A) by one of the same type and rating, never by a larger one.",
    );
    const held = { ...blown, state: "clearing", openTime: null } as const;
    for (const verdict of [fused(held), fused(blown, () => 1400)])
      expect(verdict.replace.at(-1)).toBe(
        "Replace the main fuse (blade fuse 25 A) by one of the same rated current that is made for the voltage and the short-circuit current of this line: another of its kind would fail in the same way.",
      );
  });

  test("an unknown breaking capacity is said", () => {
    const verdict = judged(run({ fuses: [fuseFound(blown)] }, { mainFuse: { ...fuse, breakingCapacity: null } }));
    expect(finding(verdict, "main fuse", "available short-circuit current").severity).toBe("not rated");
  });

  test("an in-line fuse is named by its owner", () => {
    const fed = { ...battery, lead: { ...lead, fuse } };
    const found = fuseFound({ ...blown, subject: { part: "in-line fuse", owner: "battery" } });
    const verdict = judged(
      run(
        {
          fuses: [found],
          sources: [sourceFound({ name: "battery", charge: { end: 0.9, lowest: 0.89, highest: 0.9 } })],
        },
        { sources: [fed], mainFuse: null },
      ),
    );
    expect(verdict.replace.at(-1)).toContain("Replace the in-line fuse of the battery (blade fuse 25 A)");
    expect(verdict.done[1]).toContain("The in-line fuse of the battery (blade fuse 25 A) melted");
  });
});
