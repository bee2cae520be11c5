import { runScenario } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { type Outcome, outcomeOf } from "../../../packages/sim/src/study/pool/outcome.ts";
import { shippedText } from "../compare/lines.ts";

test("a supply may be called crowbar: what it passes is not the SCR's rating", () => {
  const answer = runScenario(shippedText("10-clamp-only"), "10.yaml", { record: false });
  if (answer.kind === "refused" || answer.verdict.kind !== "verdict") throw new Error("no verdict");
  const [first] = answer.verdict.findings;
  const findings = [{ ...first, subject: "crowbar bench supply", severity: "beyond" as const }];
  const verdict = { ...answer.verdict, grade: "inside" as const, safe: true, findings };
  expect(outcomeOf({ ...answer.run, crowbar: null }, verdict)).toBe("load safe, something else beyond its rating");
});

describe("the one word for a run is the worst that can be said of it", () => {
  const answer = runScenario(shippedText("01-shorted-pass-transistor"), "01.yaml", { record: false });
  if (answer.kind === "refused" || answer.verdict.kind !== "verdict") throw new Error("no verdict");
  const { run, verdict } = answer;
  const { crowbar } = run;
  if (crowbar === null) throw new Error("no crowbar");
  const [finding] = verdict.findings;
  const inside = { ...verdict, grade: "inside" as const, safe: true, findings: [], tripping: [] };
  const beyond = (subject: string) => ({ findings: [{ ...finding, subject, severity: "beyond" as const }] });
  const intact = run.fuses.map((fuse) => ({ ...fuse, meltTime: null }));
  const fired = { ...crowbar, conductingAtEnd: false };
  const idle = { ...fired, firings: [] };
  const quiet = { fuses: intact, crowbar: idle };
  const sources = run.sources.map((source) => ({ ...source, stateAtEnd: "latched off" }));
  const opened = { starts: [0.02], state: "open" } as unknown as NonNullable<typeof run.seriesSwitch>;
  const trips = (ended: boolean) => [{ ended }] as unknown as typeof verdict.tripping;
  const own = [{ source: "station supply", findings: fired }];

  test.each<[Outcome, object, object]>([
    ["no verdict", { kind: "not a verdict" }, {}],
    ["load beyond what it stands", { grade: "beyond", safe: false }, {}],
    ["load above its maximum, within what it stands", { grade: "withstood", safe: false, ...beyond("crowbar") }, {}],
    ["load safe, SCR beyond its rating", beyond("crowbar"), {}],
    [
      "load safe, SCR beyond its rating",
      beyond("own crowbar of the station supply"),
      { crowbar: null, ownCrowbars: own },
    ],
    ["load safe, something else beyond its rating", beyond("own crowbar of the station supply"), {}],
    ["load safe, something else beyond its rating", beyond("main fuse"), {}],
    ["load safe, tripping again and again", { tripping: trips(false) }, {}],
    ["load safe, SCR kept on", { tripping: trips(true) }, { crowbar: { ...crowbar, conductingAtEnd: true } }],
    ["load safe, fuse blown", {}, { crowbar: fired }],
    ["load safe, switched off", {}, { ...quiet, seriesSwitch: opened }],
    ["load safe, switched off", {}, { ...quiet, sources }],
    ["load safe, tripped and over", {}, { ...quiet, crowbar: fired }],
    ["load safe, tripped and over", {}, { ...quiet, crowbar: null, ownCrowbars: own }],
    ["load safe, tripped and over", {}, { ...quiet, seriesSwitch: { ...opened, state: "closed" } }],
    ["load safe, nothing acted", {}, quiet],
  ])("%s: %j", (outcome, said, changed) => {
    expect(outcomeOf({ ...run, ...changed }, { ...inside, ...said } as typeof verdict)).toBe(outcome);
  });
});
