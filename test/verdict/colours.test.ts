import { describe, expect, test } from "vitest";
import { renderText } from "../../packages/sim/src/report/text.ts";
import type { Judged } from "../../packages/sim/src/verdict/types.ts";
import { judged, run } from "./fixtures.ts";

const verdict = judged(run());
const ESCAPE = "\u001b[";
const printed = (over: Partial<Judged>, colour = true): string =>
  renderText({ ...verdict, headline: "So it came out.", ...over }, { width: 80, colour });
/** The codes before a sentence, on its line. */
const codes = (text: string, words: string): string[] => {
  const line = text.split("\n").find((each) => each.includes(words)) ?? "";
  const before = line.slice(0, line.indexOf(words)).split(ESCAPE);
  return before.slice(1).map((code) => code.slice(0, code.indexOf("m")));
};
const CLOSE = {
  subject: "radio",
  quantity: "peak",
  dimension: "voltage",
  level: 15.9,
  found: 15.899,
  sentence: "The peak is too close.",
} as const;
const [GREEN, YELLOW, RED] = ["32", "33", "31"];

describe("the colour of the answer", () => {
  test.each<[string, Partial<Judged>, string]>([
    ["green where every load stayed inside", { grade: "inside" }, GREEN],
    ["yellow where one was above and stands it", { grade: "withstood" }, YELLOW],
    ["red where one is endangered", { grade: "beyond" }, RED],
    ["yellow where the run was stopped before its end", { grade: "inside", stoppedAt: 0.1 }, YELLOW],
    ["yellow where it is too close to call", { grade: "beyond", tooClose: [CLOSE] }, YELLOW],
  ])("is %s", (_, over, colour) => {
    expect(codes(printed(over), "So it came out.")).toContain(colour);
    expect(printed(over, false)).not.toContain(ESCAPE);
  });
});

test("a rating that is used up is yellow, one that is passed red", () => {
  const [finding] = verdict.findings;
  const hurt = (severity: "used up" | "beyond") =>
    printed({ findings: [{ ...finding, severity, sentence: "The SCR took a lot." }] });
  expect(codes(hurt("used up"), "- The SCR took a lot.")).toEqual([YELLOW]);
  expect(codes(hurt("beyond"), "- The SCR took a lot.")).toEqual([RED]);
});

test("what is assumed has its source behind it, where it has one", () => {
  const assumed = (source: string) =>
    printed({ assumptions: [{ ...verdict.assumptions[0], label: "Lead", value: "1 m", source }] }, false);
  expect(assumed("common practice")).toContain("  - Lead: 1 m (common practice)\n");
  expect(assumed("")).toContain("  - Lead: 1 m\n");
});

test("times, and what happened, stand below their headings", () => {
  const text = printed({}, false).split("\n");
  const head = text.findIndex((line) => line.includes("what happened, and why"));
  const [row] = text.slice(head + 1);
  expect(row.indexOf("+")).toBe(text[head].indexOf("later by"));
  expect(row.indexOf("t = ")).toBe(text[head].indexOf("at"));
  expect(row.slice(text[head].indexOf("what happened"))).toMatch(/^[A-Z]/);
});
