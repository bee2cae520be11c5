import { describe, expect, test } from "vitest";
import { barFound, finding, idle, judged, run, trace } from "./fixtures.ts";
import { crowbar, supply } from "./parts.ts";

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
    expect(verdict.replace.join(" ")).toContain(
      "Replace the SCR of the crowbar: it failed short. One of its kind would do so again in this line",
    );
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
    expect(verdict.replace[0]).toBe(
      "Switch every source off, then every load: what goes on here does not end by itself.",
    );
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
