import { describe, expect, it } from "vitest";
import { ended, heatSinkWords } from "../../../packages/sim/src/study/weakest/answer.ts";
import { shortVolts } from "../../../packages/sim/src/study/weakest/groups.ts";
import {
  factSentences,
  matchCsv,
  matchJson,
  matchMarkdown,
  matchReasons,
  matchText,
  shortList,
  soundSentences,
} from "../../../packages/sim/src/study/weakest/report.ts";
import { matchParts } from "../../../packages/sim/src/study/weakest/run.ts";
import type {
  Check,
  Combination,
  MatchAnswer,
  Outcome,
  RuleName,
} from "../../../packages/sim/src/study/weakest/types.ts";
import { STATION, shipped } from "./lines.ts";

const found = matchParts(shipped(STATION), "test.yaml", {
  fuses: ["blade fuse 30 A"],
  scrs: ["SCR 50 A"],
  wires: ["6 mm2"],
  most: 1,
});
if (found.kind === "refused") throw new Error("refused");
const answer: MatchAnswer = found;
const ran = answer.all.find(({ outcome }) => outcome !== null);
if (ran?.outcome == null) throw new Error("nothing was run");
const outcome: Outcome = { ...ran.outcome, sound: true, reasons: [], notes: [], ending: "fuse blown", openAfter: 0.4 };
const base: Combination = { ...ran, checks: [], inductance: null, heatSink: null, outcome };

const broken = (rule: RuleName, sentence: string, shortBy = 2): Check =>
  ({
    rule,
    subject: "fuse",
    kept: false,
    dimension: "current",
    found: 2,
    allowed: 1,
    sentence,
    shortBy,
    mend: null,
  }) as const;
const part = (name: string, ...checks: Check[]) => ({ name, yours: false, changes: [], checks });
const combined = (fuse: string, scr: string, wire: string, change: Partial<Combination> = {}): Combination => ({
  ...base,
  id: `${fuse} + ${scr} + ${wire}`,
  fuse,
  scr,
  wire,
  ...change,
});

/** An answer with these parts and combinations. */
const told = (change: Partial<MatchAnswer>): MatchAnswer => ({
  ...answer,
  fuses: [],
  scrs: [],
  wires: [],
  all: [],
  sound: [],
  fellInRun: [],
  notRun: [],
  remedy: null,
  ...change,
});
const items = (of: MatchAnswer, title: string) => matchReasons(of).find((each) => each.title === title)?.items;

describe("what the line asks", () => {
  it.each([
    ["steady", 1, "through it for good."],
    ["ends", 1, "through it until the supply shuts itself off."],
    ["pulses", 0.25, "through it in pulses, up to 25 % of the time."],
  ] as const)("a current that is %s", (style, onShare, said) => {
    const facts = { ...answer.facts, onShare, lasting: { current: 33, style } };
    expect(factSentences(facts)[1]).toBe(`Once the SCR has fired, the sources drive 33 A ${said}`);
  });
});

// Of 2 K/W two digits a little below are named, on the side that keeps the junction cooler: 0.98 × 2 = 1.96, so 1.9.
describe("how a run ended", () => {
  const end = (change: Partial<Outcome>, heatSink: number | null = null) =>
    ended({ ...base, heatSink, outcome: { ...outcome, ...change } });

  it.each([
    [{}, null, "the fuse is open 400 ms after the fault."],
    [{ openAfter: null }, null, "a fuse ends the fault."],
    [{ ending: "held on" }, null, "the SCR is held on until somebody switches the source off."],
    [
      { ending: "held on" },
      2,
      "the SCR is held on until somebody switches the source off, on a heat sink of at most 1.9 K/W.",
    ],
    [
      { ending: "held on" },
      80,
      "the SCR is held on until somebody switches the source off, and needs no heat sink for that.",
    ],
    [{ ending: "repeated tripping" }, null, "the crowbar trips again and again, and everything stands it."],
    [{ ending: "shut off" }, null, "the supply shuts itself off."],
    [{ ending: "not ended" }, null, "nothing has ended the fault when the run ends."],
    [{ ending: "not fired" }, null, "the crowbar never fires."],
  ] as const)("%j with a heat sink of %s K/W", (change, heatSink, said) => {
    expect(end(change, heatSink)).toBe(said);
  });

  it("not run: nothing is said of it", () => {
    expect(ended({ ...base, outcome: null })).toBe("no full run was made.");
    expect(soundSentences({ ...base, outcome: null }, [])).toEqual([]);
    expect(heatSinkWords(60)).toBe("and needs no heat sink for that");
  });
});

describe("what a sound combination needs besides", () => {
  const said = (change: Partial<Combination>, others: string[] = []) => soundSentences({ ...base, ...change }, others);

  it("nothing: how it ended, what was seen, and the nearest limit", () => {
    const nearest = { subject: "crowbar", quantity: "surge over 10 ms", headroom: 1.7 };
    const sentences = said({ outcome: { ...outcome, letThroughI2t: 950, nearest } });
    expect(sentences[0]).toBe("The fuse is open 400 ms after the fault.");
    expect(sentences[2]).toMatch(/; the fuse let 950 A²s through\.$/);
    expect(sentences[3]).toMatch(/^Nearest limit: crowbar, surge over 10 ms, ×1\.7\.$/);
    expect(said({ outcome: { ...outcome, letThroughI2t: null, nearest: null } })).toHaveLength(3);
  });

  it("an inductance, thicker wire that would do too, and what a held SCR would need", () => {
    const quiet = { outcome: { ...outcome, nearest: null } };
    expect(said({ ...quiet, inductance: 2e-6 }).at(-1)).toBe("It needs 2 µH in the SCR's branch.");
    expect(said({ ...quiet, heatSink: 2 }).at(-1)).toBe(
      "Were it held on, the SCR would stand that on a heat sink of at most 1.9 K/W.",
    );
    expect(said({ ...quiet, heatSink: 80 }).at(-1)).toBe("Were it held on, the SCR would need no heat sink for that.");
    expect(said(quiet, ["6 mm²", "10 mm²"]).at(-1)).toBe(
      "Thicker wire keeps the rules too, without a run: 6 mm², 10 mm².",
    );
    const held = { ...quiet.outcome, ending: "held on" } as const;
    expect(said({ heatSink: 2, outcome: held }).join(" ")).not.toContain("Were it held on");
  });
});

describe("why others fell out", () => {
  it("parts of one rule are told together, the nearest first; yours by itself", () => {
    const load = (name: string, shortBy: number) =>
      part(name, broken("continuous load", `${name} is too small.`, shortBy));
    const fuses = [load("1 A", 9), load("2 A", 4), load("3 A", 3), { ...load("4 A", 2), yours: true }];
    expect(items(told({ fuses }), "Why fuses fell out")).toEqual([
      "4 A (yours): 4 A is too small.",
      "3 A, 1 A, 2 A: 3 A is too small.",
    ]);
    const many = [load("1 A", 9), load("2 A", 8), load("3 A", 7), load("4 A", 6), load("5 A", 5)];
    expect(items(told({ fuses: many }), "Why fuses fell out")).toEqual(["5 A and 4 more: 5 A is too small."]);
  });

  it("every broken rule of every part, where that is asked for", () => {
    const fuses = [
      {
        ...part("1 A", broken("continuous load", "Too small."), broken("rated voltage", "Too few volts.")),
        yours: true,
      },
    ];
    const all = matchText(told({ fuses }), { all: true });
    expect(all).toContain("  - 1 A (yours): Too small.\n  - 1 A (yours): Too few volts.\n");
    expect(matchText(told({ fuses }))).not.toContain("Too few volts.");
  });

  it("a wire by itself, or because no fuse that is left guards it; not one that one of them does", () => {
    const fuses = [part("A"), part("B"), part("lost", broken("continuous load", "Too small."))];
    const wires = [
      part("thin", broken("wire in service", "It gets hot.")),
      part("middle"),
      { ...part("thick"), yours: true },
    ];
    const hot = (fuse: string, wire: string, shortBy: number) =>
      combined(fuse, "SCR", wire, {
        checks: [broken("wire behind fuse", `${fuse} does not guard ${wire}.`, shortBy)],
        outcome: null,
      });
    const all = [
      hot("A", "middle", 3),
      hot("B", "middle", 2),
      hot("A", "thick", 2),
      combined("B", "SCR", "thick"),
      hot("lost", "middle", 1),
    ];
    const of = told({ fuses, scrs: [part("SCR")], wires, all });
    expect(items(of, "Why wires fell out")).toEqual(["thin: It gets hot.", "middle: B does not guard middle."]);
    const own = { ...of, wires: wires.map((wire) => ({ ...wire, yours: true })) };
    expect(items(own, "Why wires fell out")).toEqual([
      "thin (yours): It gets hot.",
      "middle (yours): B does not guard middle.",
    ]);
  });

  it("pairs by their rule, or in their run with the wire that was run; those not run are named", () => {
    const parts = { fuses: [part("A"), part("B"), part("C")], scrs: [part("SCR")], wires: [part("4 mm²")] };
    const all = [
      combined("A", "SCR", "4 mm²", { checks: [broken("surge", "Too much I²t.")], outcome: null }),
      combined("B", "SCR", "4 mm²", { outcome: { ...outcome, sound: false, reasons: ["It got too hot."] } }),
      combined("C", "SCR", "4 mm²", { outcome: null }),
    ];
    const of = told({ ...parts, all });
    expect(items(of, "Why pairs of fuse and SCR fell out")).toEqual([
      "A + SCR: Too much I²t.",
      "B + SCR + 4 mm²: It got too hot.",
    ]);
    expect(items(of, "Not run")).toEqual(["1 pair of fuse and SCR keeps every rule but was not run: C + SCR."]);
    const two = told({ ...parts, all: [all[2], combined("A", "SCR", "4 mm²", { outcome: null })] });
    expect(items(two, "Not run")).toEqual([
      "2 pairs of fuse and SCR keep every rule but were not run: C + SCR; A + SCR.",
    ]);
  });

  it("which fuses the supply is able to blow, beside the parts of the file", () => {
    const all = [
      combined("A", "SCR", "4 mm²", { lasting: 33, meltsIn: 12, changed: 1 }),
      combined("A", "SCR 2", "4 mm²", { lasting: 40, meltsIn: 5, changed: 2 }),
      combined("B", "SCR", "4 mm²", { lasting: 33, meltsIn: null }),
    ];
    const blown = (style: "steady" | "ends") =>
      items(
        told({ all, facts: { ...answer.facts, lasting: { current: 33, style } } }),
        "What the supply is able to blow",
      );
    expect(blown("steady")).toEqual(["A: 33 A melt it in about 12 s.", "B: 33 A never melt it."]);
    expect(blown("ends")?.[1]).toBe("B: 33 A do not melt it before the supply stops.");
  });
});

it("volts have room for five characters in a cell", () => {
  expect([1.234, 0.1, 0.0499, 0.0042].map(shortVolts)).toEqual(["1.23 V", "0.10 V", "50 mV", "4.2 mV"]);
});

describe("the short list in its forms", () => {
  const parts = { fuses: [part("A"), part("B")], scrs: [part("SCR")], wires: [part("4 mm²"), part("6 mm²")] };
  const first = combined("A", "SCR", "4 mm²", { inductance: 2e-6, heatSink: 2 });
  const second = combined("B", "SCR", "4 mm²", {
    outcome: { ...outcome, openAfter: null, ending: "shut off", nearest: null },
  });
  const waiting = combined("A", "SCR", "6 mm²", { outcome: null });
  const of = told({
    ...parts,
    sound: [second, first],
    all: [first, waiting, second],
    facts: { ...answer.facts, title: "" },
  });

  it("stands in the order of the sound ones, each with the thicker wires that keep the rules", () => {
    expect(shortList(of).map(({ combination, thicker }) => [combination.id, thicker])).toEqual([
      ["B + SCR + 4 mm²", []],
      ["A + SCR + 4 mm²", ["6 mm²"]],
    ]);
    expect(matchText(of)).toMatch(/^What goes first\n/);
    expect(matchText(told({}))).not.toContain("Sound, each confirmed");
  });

  it("as Markdown: a dash where nothing is needed and no limit is near", () => {
    const rows = matchMarkdown(of)
      .split("\n")
      .filter((row) => row.startsWith("| "));
    expect(rows[2]).toMatch(/^\| B \| SCR \| 4 mm² \| shut off \|.*\| – \| – \|$/);
    expect(rows[3]).toMatch(
      /^\| A \| SCR \| 4 mm² \| open after 400 ms \|.*\| 2 µH in the SCR's branch; a heat sink of at most 1.9 K\/W \|$/,
    );
    expect(matchMarkdown(told({}))).not.toContain("| fuse |");
  });

  it("as CSV: how each came off, with its first reason", () => {
    const fell = combined("A", "SCR", "2 mm²", { checks: [broken("surge", "Too much.")], outcome: null });
    const inRun = combined("B", "SCR", "6 mm²", { outcome: { ...outcome, sound: false, reasons: ["Too hot."] } });
    const lost = combined("C", "SCR", "4 mm²", { outcome: null });
    const wide = { ...parts, fuses: [...parts.fuses, part("C", broken("continuous load", "Too small."))] };
    const rows = [...matchCsv(told({ ...wide, all: [first, waiting, fell, inRun, lost] }))].map((row) =>
      row.split(","),
    );
    expect(rows.slice(1).map((row) => [row[3], row[4], row[7]])).toEqual([
      ["sound", "", ""],
      ["not run", "", ""],
      ["fell by rule", "surge", "Too much."],
      ["fell in run", "", "Too hot."],
      ["fell by rule", "continuous load", "Too small."],
    ]);
    expect(rows.every((row) => row.length === rows[0].length)).toBe(true);
  });

  it("as JSON: only broken rules of what was not run", () => {
    const kept = { ...broken("dump", "Kept."), kept: true };
    const both = combined("A", "SCR", "6 mm²", { checks: [kept, broken("surge", "Too much.")] });
    const json = matchJson(told({ ...parts, all: [both], notRun: [both] })) as MatchAnswer;
    expect([json.all[0].checks, json.notRun[0].checks].map((checks) => checks.map(({ rule }) => rule))).toEqual([
      ["surge"],
      ["surge"],
    ]);
  });
});
