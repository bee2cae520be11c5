import { describe, expect, test } from "vitest";
import { blown, finding, fuseFound, judged, run, sourceFound } from "./fixtures.ts";
import { battery, fuse, lead } from "./parts.ts";

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
    expect(verdict.replace.slice(2, 4)).toEqual([
      "Find the fault before replacing the fuse.",
      "Repair or replace the supply (shorted pass transistor).",
    ]);
    expect(verdict.replace[4]).toContain("Replace the main fuse (blade fuse 25 A) by one of the same type");
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
    expect(fused(blown).replace).toContain(
      "Replace the main fuse (blade fuse 25 A) by one of the same type and rating, never by a larger one.",
    );
    const held = { ...blown, state: "clearing", openTime: null } as const;
    for (const verdict of [fused(held), fused(blown, () => 1400)])
      expect(verdict.replace).toContain(
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
    expect(verdict.replace.join(" ")).toContain("Replace the in-line fuse of the battery (blade fuse 25 A)");
    expect(verdict.done[1]).toContain("The in-line fuse of the battery (blade fuse 25 A) melted");
  });
});
