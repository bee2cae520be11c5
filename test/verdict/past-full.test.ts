import { describe, expect, test } from "vitest";
import { parseScenario } from "../../packages/sim/src/scenario/index.ts";
import type { Battery } from "../../packages/sim/src/scenario/types.ts";
import { finding, judged, run, sourceFound, trace } from "./fixtures.ts";
import { battery } from "./parts.ts";

const TABLE = [
  { charge: 0, emf: 11.7 },
  { charge: 1, emf: 12.9 },
  { charge: 1.02, emf: 13.8 },
];

describe("a battery charged past full by a model that knows no steep rise there", () => {
  const charged = (highest: number, emfTable: Battery["emfTable"] = null, traced = true) =>
    judged(
      run(
        {
          sources: [sourceFound({ name: "battery", charge: { end: highest, lowest: 0.8, highest } })],
          trace: traced
            ? trace([0, 3600.001, 7200], { battery_charge_share: [0.8, 1.0001, highest] })
            : trace([], { battery_charge_share: [] }),
        },
        { sources: [{ ...battery, emfTable }], endTime: 7200 },
      ),
    );
  const said = (verdict: ReturnType<typeof charged>): readonly string[] => [
    verdict.headline,
    ...verdict.done,
    finding(verdict, "battery", "state of charge").sentence,
  ];

  test("the answer, the protectors' times and the battery's finding say so, with the remedy", () => {
    const verdict = charged(1.98);
    expect(verdict.headline).toMatch(
      /was full \(.*after the start\): past that the battery's voltage is told too low\.$/,
    );
    expect(verdict.done.at(-1)).toMatch(
      /^Every time later than .* after the start, when the battery was full, is told too long/,
    );
    expect(finding(verdict, "battery", "state of charge").sentence).toContain(
      "all times told from there on are too long. Take the part class with `overcharge` in its name, or give its `emf table` points beyond full.",
    );
    expect(charged(1.98, null, false).headline).toContain("only until the battery was full: past that");
  });

  test("not with a table that rises, nor where what was pushed in is less than a thousandth", () => {
    for (const verdict of [charged(1.04, TABLE), charged(1.0009), charged(0.95)])
      expect(said(verdict).join(" ")).not.toMatch(/too long|too low/);
    // Ends at full with the slope that it had before: no more than a straight line.
    expect(said(charged(1.04, TABLE.slice(0, 2))).join(" ")).toContain("too long");
    // A last piece that is steep before full goes on beyond it.
    const early = [TABLE[0], { charge: 0.95, emf: 12.9 }, { charge: 1, emf: 13.8 }];
    expect(said(charged(1.04, early)).join(" ")).not.toContain("too long");
  });
});

describe("the check warns where a fault can bring a battery there within the run", () => {
  const warned = (time: string, part: string, fault = "lost feedback") => {
    const charger = `{name: c, part: battery charger 10 A, fault: ${fault}, limit: {style: constant current, current: 10 A}, lead: {length: 1 m, area: 6 mm2}}`;
    const own = `{name: b, part: "${part}", initial charge: 90 %, lead: {length: 1 m, area: 6 mm2}}`;
    const load = "{name: r, part: 100 W radio, lead: {length: 1 m, area: 6 mm2}}";
    const text = `fault at: 1 ms\nrun for: ${time}\nsources:\n  - ${charger}\n  - ${own}\nloads:\n  - ${load}\n`;
    const { issues } = parseScenario(text, "line.yaml");
    expect(issues.filter(({ severity }) => severity === "error")).toEqual([]);
    return issues.find(({ code }) => code === "no-rise-beyond-full") ?? null;
  };

  test("by current times time: 10 A bring 10.1 Ah in 3636 s", () => {
    expect(warned("3635 s", "AGM battery 100 Ah")).toBeNull();
    expect(warned("3637 s", "AGM battery 100 Ah")).toMatchObject({
      severity: "warning",
      path: "sources[1].part",
      hint: "write `part: AGM battery 100 Ah, overcharge`, or give its `emf table` points beyond full",
    });
  });

  test("not without a fault, nor with the class that rises", () => {
    expect(warned("12 h", "AGM battery 100 Ah", "none")).toBeNull();
    expect(warned("12 h", "AGM battery 100 Ah, overcharge")).toBeNull();
  });
});

test("it was full when its charge passed full, not at the next row that was recorded", () => {
  const verdict = judged(
    run(
      {
        sources: [sourceFound({ name: "battery", charge: { end: 1.2, lowest: 0.8, highest: 1.2 } })],
        trace: trace([0, 7200], { battery_charge_share: [0.8, 1.2] }),
      },
      { sources: [battery], endTime: 7200 },
    ),
  );
  expect(verdict.headline).toContain("was full (1 h after the start)");
});
