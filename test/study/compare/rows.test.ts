import { type Answered, compareRow, type JudgedRow, runScenario, type Verdict } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { shippedText } from "./lines.ts";

type Judged = Extract<Verdict, { kind: "verdict" }>;

const found = runScenario(shippedText("01-shorted-pass-transistor"), "01.yaml", { record: false });
if (found.kind === "refused" || found.verdict.kind !== "verdict") throw new Error("no verdict");
const answer: Answered = found;
const judged: Judged = found.verdict;
const [load] = judged.loads;
const [fuse] = answer.run.fuses;
const [finding] = judged.findings;

const entry = { name: "line", about: "", isBase: false };

/** What the row says where run and verdict differ in this. */
function row(verdict: Partial<Judged>, run: Partial<Answered["run"]> = {}): JudgedRow {
  const told = compareRow(
    entry,
    { ...answer, run: { ...answer.run, ...run }, verdict: { ...judged, ...verdict } },
    null,
  );
  if (told.kind !== "judged") throw new Error(told.why);
  return told;
}

describe("a line without a verdict", () => {
  test("that was refused gives all reasons, and no warnings", () => {
    const refused = runScenario("run for: 1 s\n", "hut.yaml");
    if (refused.kind !== "refused") throw new Error("answered");
    const [first] = refused.issues;
    const issues = [
      { ...first, message: "One." },
      { ...first, severity: "warning" as const, message: "By the way." },
      { ...first, message: "Two." },
    ];
    expect(compareRow(entry, { ...refused, issues }, null)).toEqual({ ...entry, kind: "no verdict", why: "One. Two." });
  });

  test("that broke off says what the verdict says", () => {
    const verdict = {
      ...judged,
      kind: "not a verdict",
      headline: "NOT A VERDICT: the steps became too short.",
    } as const;
    expect(compareRow(entry, { ...answer, verdict: verdict as unknown as Verdict }, null)).toMatchObject({
      kind: "no verdict",
      why: "NOT A VERDICT: the steps became too short.",
    });
  });
});

describe("the load that it speaks of", () => {
  const at = (name: string, grade: typeof load.grade, value: number, maximum = 16) => ({
    ...load,
    name,
    grade,
    maximum,
    peak: { value, time: 1 },
  });

  test.each([
    ["the worse grade, whatever the peaks", [at("a", "inside", 15.9), at("b", "withstood", 12, 11)], "b"],
    ["the worse grade, whatever the order", [at("a", "beyond", 17), at("b", "withstood", 19)], "a"],
    ["of equal grades the one nearer to its own maximum", [at("a", "inside", 14, 16), at("b", "inside", 13, 14)], "b"],
    ["the first where they are equal", [at("a", "inside", 14), at("b", "inside", 14)], "a"],
  ])("%s", (_, loads, name) => {
    expect(row({ loads }).load).toBe(name);
  });
});

describe("the fuse that it speaks of", () => {
  const zero = answer.run.scenario.faultTime;
  const intact = { ...fuse, state: "intact", meltTime: null, openTime: null, peakTheta: 0.2 } as const;
  const named = (label: string, change: Partial<typeof fuse>) => ({ ...intact, label, ...change });

  test.each([
    ["none", [], { state: "none", label: "", share: 0, after: null }],
    [
      "of intact ones the one nearest to melting",
      [named("a", {}), named("b", { peakTheta: 0.7 })],
      { state: "intact", label: "b", share: 0.7, after: null },
    ],
    [
      "the one that melted first",
      [
        named("a", { meltTime: zero + 2, openTime: zero + 2.1, state: "open", peakTheta: 1 }),
        named("b", { meltTime: zero + 1, openTime: zero + 1.5, state: "open", peakTheta: 1.1 }),
      ],
      { state: "blown", label: "b", share: 1, after: 1.5 },
    ],
    [
      "one that still arcs, since it melted",
      [named("a", {}), named("b", { meltTime: zero + 1, state: "clearing", peakTheta: 1 })],
      { state: "arcing", label: "b", share: 1, after: 1 },
    ],
  ] as const)("%s", (_, fuses, said) => {
    expect(row({}, { fuses }).fuse).toEqual(said);
  });
});

test("of several that trip repeatedly the one that trips most", () => {
  const trips = (count: number, ended: boolean) => ({
    subject: "crowbar",
    count,
    period: 1 / count,
    ended,
    onTime: null,
    onShare: null,
    sentence: "",
    longRun: [],
    fatigue: [],
  });
  expect(row({ tripping: [] }).tripping).toBeNull();
  expect(row({ tripping: [trips(4, true), trips(20, false)] }).tripping).toEqual({
    count: 20,
    period: 0.05,
    goesOn: true,
  });
  expect(row({ tripping: [trips(4, true), trips(2, false)] }).tripping).toEqual({
    count: 4,
    period: 0.25,
    goesOn: false,
  });
});

describe("the SCR", () => {
  const { crowbar } = answer.run;
  if (crowbar === null) throw new Error("no crowbar");
  const own = (severity: typeof finding.severity) => ({ findings: [{ ...finding, subject: "crowbar", severity }] });

  test.each([
    ["used up", { state: "used up" }, [{ part: "crowbar's SCR", step: "check", weight: 2 }]],
    ["unknown", { state: "unknown" }, [{ part: "crowbar's SCR", step: "replace", weight: 2 }]],
    ["ok", { state: "ok" }, []],
  ] as const)("%s", (severity, scr, replaced) => {
    const told = row(own(severity), { fuses: [] });
    expect(told.scr).toMatchObject(scr);
    expect(told.replaced).toEqual(replaced);
  });

  test("failed short: as hot as that took, and no hotter", () => {
    const failTemperature = answer.scenario.crowbar?.failTemperature;
    const hot = { ...crowbar, failedShort: true, peakTemperature: { value: 900, time: 1 } };
    expect(row({ findings: [] }, { crowbar: hot }).scr).toMatchObject({ state: "failed short", peak: failTemperature });
  });

  test("that never fired, or is not there, is not told of", () => {
    expect(row({}, { crowbar: { ...crowbar, firings: [] } }).scr).toBeNull();
    expect(row({}, { crowbar: null }).scr).toBeNull();
  });
});

describe("how the load comes by its supply again, on a line where nothing is broken or blown", () => {
  const [source] = answer.run.scenario.sources;
  const healthy = { ...source, fault: { ...(source as { fault: object }).fault, kind: "none" } } as typeof source;
  const scenario = { ...answer.run.scenario, sources: [healthy] };
  const starved = (comesBack: "came back" | "by itself" | "by hand" | "not told") => ({
    ...load,
    starved: { total: 1, longest: 1, stillAtEnd: true, comesBack, sentence: "" },
  });
  const off = { ...load, starved: null };

  test.each([
    ["never off", [off, off]],
    ["alone", [off, starved("came back")]],
    ["alone", [starved("by itself")]],
    ["after a reset", [starved("not told"), starved("by hand")]],
    ["not told", [starved("not told"), starved("came back")]],
  ] as const)("%s", (comesBack, loads) => {
    expect(row({ loads, findings: [], grade: "inside" }, { scenario, fuses: [] }).comesBack).toBe(comesBack);
  });

  test.each([
    ["a load that is lost", { grade: "beyond" }, { scenario, fuses: [] }],
    ["a fuse to replace", {}, { scenario }],
    ["a source that is broken still", { loads: [starved("by itself")] }, { fuses: [] }],
  ] as const)("after a repair: %s", (_, verdict, run) => {
    expect(row({ findings: [], ...verdict }, run).comesBack).toBe("after a repair");
  });
});

describe("what must be replaced or looked at", () => {
  const hurt = (subject: string) => ({ ...finding, subject, severity: "beyond" as const });

  test.each([
    ["lead of the station supply", [{ part: "lead of the station supply", step: "replace", weight: 3 }]],
    ["contact of the relay radio", [{ part: "contact of the relay radio", step: "replace", weight: 3 }]],
    ["series switch", [{ part: "series switch", step: "replace", weight: 2 }]],
  ])("%s", (subject, replaced) => {
    expect(row({ findings: [hurt(subject)] }, { fuses: [] }).replaced).toEqual(replaced);
  });

  test("a switch of which nobody can tell is looked at; a load that withstood is too", () => {
    const unknown = { ...hurt("series switch"), severity: "unknown" as const };
    const loads = [{ ...load, grade: "withstood" as const }];
    expect(row({ findings: [unknown], loads }, { fuses: [] }).replaced).toEqual([
      { part: "series switch", step: "check", weight: 2 },
      { part: "relay radio", step: "check", weight: 4 },
    ]);
  });

  test("the SCR of a supply's own crowbar is told from the line's", () => {
    if (answer.run.crowbar === null) throw new Error("no crowbar");
    const [supply] = answer.run.scenario.sources;
    const scenario = {
      ...answer.run.scenario,
      sources: [{ ...supply, ownCrowbar: answer.run.scenario.crowbar }] as never,
    };
    const ownCrowbars = [{ source: "station supply", findings: { ...answer.run.crowbar, failedShort: true } }];
    const told = row({ findings: [] }, { fuses: [], crowbar: null, ownCrowbars, scenario });
    expect(told.replaced).toEqual([
      { part: "SCR of the own crowbar of the station supply", step: "replace", weight: 2 },
    ]);
  });

  test("too close to call is left to fear", () => {
    const tooClose = [
      { subject: "relay radio", quantity: "", dimension: "voltage" as const, level: 16, found: 16, sentence: "" },
    ];
    expect(row({ tooClose }).risks.at(-1)).toBe("too close to call");
  });
});
