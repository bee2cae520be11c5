import {
  type CompareRow,
  type Comparison,
  compareCells,
  comparisonCsv,
  comparisonData,
  comparisonHeadline,
  comparisonMarkdown,
  type JudgedRow,
  renderComparison,
} from "@railfault/sim";
import { multiplesData } from "@railfault/sim/figures";
import { beforeAll, describe, expect, test } from "vitest";
import { compared, rowOf, shippedText } from "./lines.ts";

let station: Comparison;
let base: JudgedRow;
beforeAll(() => {
  station = compared(shippedText("01-shorted-pass-transistor"), { schemes: ["series transistor"] });
  base = rowOf(station, "series transistor");
});

const NONE: CompareRow = { kind: "no verdict", name: "tried", about: "", isBase: false, why: "It was not run." };

describe("cells", () => {
  const cells = (change: Partial<JudgedRow>) => compareCells({ ...base, ...change });

  test.each([
    [{ grade: "inside", tooClose: false }, "safe"],
    [{ grade: "withstood", tooClose: false }, "withstood"],
    [{ grade: "beyond", tooClose: false }, "ENDANGERED"],
    [{ grade: "inside", tooClose: true }, "too close"],
    [{ grade: "withstood", tooClose: true }, "too close"],
    // That it is lost is beyond doubt.
    [{ grade: "beyond", tooClose: true }, "ENDANGERED"],
    // As the headline counts them: safe, and something else was hurt all the same.
    [{ grade: "inside", hazard: "beyond rating" }, "safe, hazard"],
    [{ grade: "inside", hazard: "heats up" }, "safe, hazard"],
    [{ grade: "withstood", hazard: "fire" }, "withstood"],
  ] as const)("the load: %j", (change, said) => {
    expect(cells(change).load).toBe(said);
  });

  const fuse = { state: "intact", label: "main fuse", share: 0.31, after: null } as const;
  test.each([
    [{ ...fuse, state: "none" }, "no fuse"],
    [{ ...fuse, share: 0.004 }, "intact"],
    [fuse, "intact, 31 % of melting"],
    [{ ...fuse, state: "blown", after: 0.13 }, "blown 130 ms"],
    [{ ...fuse, state: "blown" }, "blown"],
    [{ ...fuse, state: "arcing", after: 0.13 }, "ARCING 130 ms"],
  ] as const)("the fuse: %j", (of, said) => {
    expect(cells({ fuse: of }).fuse).toBe(said);
  });

  const scr = { peak: 140, limit: 125, failedShort: false, state: "ok" } as const;
  test.each([
    [null, "–"],
    [scr, "140 °C"],
    [{ ...scr, state: "unknown" }, "140 °C, UNKNOWN"],
    [{ ...scr, state: "used up" }, "140 °C, used up"],
    [{ ...scr, state: "failed short", failedShort: true }, "140 °C, failed short"],
  ] as const)("the SCR: %j", (of, said) => {
    expect(cells({ scr: of }).scr).toBe(said);
  });

  test("trips, and time above the limit", () => {
    const tripping = { count: 7, period: 0.08, goesOn: true };
    expect(cells({ tripping }).trips).toBe("7 times, every 80 ms");
    expect(cells({ tripping: null }).trips).toBe("–");
    expect(cells({ above: { total: 0.012, longest: 0.01, level: 16 } }).above).toBe("12 ms");
    expect(cells({ above: { total: 0, longest: 0, level: 16 } }).above).toBe("never");
  });

  test("normal service that is not known, or not possible", () => {
    const refused = { kind: "refused", why: "the fuse melts" } as const;
    const receive = { kind: "found", current: 2, drop: 0.025, loss: 0.05 } as const;
    expect(cells({ service: null })).toMatchObject({ receive: "–", transmit: "–" });
    expect(cells({ service: { receive, transmit: null } })).toMatchObject({ receive: "25 mV, 50 mW", transmit: "–" });
    expect(cells({ service: { receive, transmit: refused } }).transmit).toBe("not possible: the fuse melts");
  });

  test("what is to be done, in the order in which it is done", () => {
    const mended = [
      { source: "station supply", fault: "lost feedback", step: "repair" },
      { source: "second supply", fault: "voltage turned up", step: "set back" },
    ] as const;
    const replaced = [
      { part: "relay radio", step: "check", weight: 4 },
      { part: "main fuse", step: "replace", weight: 1 },
      { part: "clamp", step: "replace", weight: 2 },
    ] as const;
    expect(cells({ mended, replaced }).replaced).toBe(
      "repair the station supply; set the second supply back to its voltage; replace the main fuse and the clamp; check the relay radio",
    );
    expect(cells({ mended: [], replaced: [] }).replaced).toBe("nothing");
    expect(cells({ risks: [] }).risk).toBe("nothing that the run tells of");
  });
});

test("as many lines are marked as the headline counts with a hazard", () => {
  const rows = (["none", "fire", "heats up"] as const).map((hazard, k) => ({ ...base, name: `line ${k}`, hazard }));
  expect(comparisonHeadline(rows)).toContain("safe in 3 of 3 schemes, 2 of them with a hazard left");
  expect(rows.filter((row) => compareCells(row).load === "safe, hazard")).toHaveLength(2);
  const panels = multiplesData({ ...station, rows: [{ ...base, hazard: "fire" }] })?.panels;
  expect(panels?.map(({ outcome, tone }) => [outcome, tone])).toEqual([["safe, hazard, 15 V", "withstood"]]);
});

describe("the headline", () => {
  const hurt = { hazard: "fire" } as const;
  const lost = { safe: false, grade: "beyond" } as const;

  test.each([
    ["None of the lines has a verdict.", [], [NONE]],
    ["None of these schemes keeps the load within its limit.", [lost, lost], []],
    // Too close to call is not safe.
    ["None of these schemes keeps the load within its limit.", [{ tooClose: true }], []],
    ["The load is safe in 2 of 3 schemes; by the rule of this table, line 1 comes first.", [{}, {}, lost], [NONE]],
    [
      "The load is safe in 3 of 4 schemes, 2 of them with a hazard left; by the rule of this table, line 1 comes first.",
      [{}, hurt, hurt, { ...lost, ...hurt }],
      [],
    ],
  ] as const)("%s", (said, changes, others) => {
    const rows = changes.map((change, k): CompareRow => ({ ...base, name: `line ${k + 1}`, ...change }));
    expect(comparisonHeadline([...rows, ...others])).toBe(said);
  });
});

describe("whole tables", () => {
  test("of a comparison that was ended early, with a line that was not run", () => {
    const early = { ...station, title: "", stopped: true, rows: [base, NONE] };
    const text = renderComparison(early, { width: 100 });
    expect(text).toMatch(/^Schemes side by side\n\nStopped early: what is missing was not run\.\n/);
    expect(text).toContain("NO VERDICT");
    expect(text).toContain("  - tried: It was not run.\n");
    // Only lines with a verdict are set beside the first.
    expect(text).not.toContain("Beside ");
    const markdown = comparisonMarkdown(early);
    expect(markdown).toMatch(/^# Schemes side by side\n/);
    expect(markdown).toContain("- **tried**: “tried” has no verdict: It was not run.");
    const data = comparisonData(early, { file: "01.yaml", version: "0" });
    expect(data).toMatchObject({ stopped: true, differences: [{ name: "tried", beside: "series transistor" }] });
  });

  test("of a comparison without any verdict nothing is set beside anything", () => {
    const none = { ...station, rows: [NONE, { ...NONE, name: "other" }] };
    const text = renderComparison(none);
    expect(text).toContain("None of the lines has a verdict.\n");
    expect(text).not.toContain("The order weighs");
    for (const said of [text, comparisonMarkdown(none)]) expect(said).not.toContain("Beside");
  });

  test("CSV: a line without a verdict has its name and the reason, and as many cells as the others", () => {
    const mended = [{ source: "station supply", fault: "voltage turned up", step: "set back" }] as const;
    const close = { ...base, isBase: true, tooClose: true, mended, service: null };
    const [head, first, second] = [...comparisonCsv({ ...station, rows: [close, NONE] })]
      .join("")
      .split("\r\n")
      .map((line) => line.split(","));
    const cell = (name: string) => first[head.indexOf(name)];
    expect([cell("as_it_stands"), cell("too_close"), cell("repair")]).toEqual([
      "yes",
      "yes",
      "station supply (set back)",
    ]);
    expect([cell("receive_drop_V"), cell("transmit_loss_W")]).toEqual(["", ""]);
    expect(second).toHaveLength(head.length);
    expect(second.filter((each) => each !== "")).toEqual(["tried", "no", "no verdict", "It was not run."]);
  });
});
