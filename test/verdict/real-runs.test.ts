import { describe, expect, test } from "vitest";
import { simulate } from "../../packages/sim/src/model/run.ts";
import { renderText } from "../../packages/sim/src/report/text.ts";
import { parseScenario } from "../../packages/sim/src/scenario/index.ts";
import { judge } from "../../packages/sim/src/verdict/judge.ts";
import { bySecondRun } from "../../packages/sim/src/verdict/second-run.ts";
import type { Judged } from "../../packages/sim/src/verdict/types.ts";
import { finding } from "./fixtures.ts";

/** From the text of a scenario to its verdict, as the command does it. */
function verdictOn(lines: readonly string[], runFor: string): Judged {
  const text = ["title: mountain hut", "fault at: 10 ms", `run for: ${runFor}`, ...lines].join("\n");
  const { scenario, issues, origins } = parseScenario(text, "hut.yaml");
  if (scenario === null) throw new Error(issues.map(({ message }) => message).join("\n"));
  const run = simulate(scenario);
  const verdict = judge(run, { warnings: issues, origins, prospective: bySecondRun(run, {}) });
  if (verdict.kind !== "verdict") throw new Error(verdict.headline);
  return verdict;
}

const source = (part: string, fault = "lost feedback"): readonly string[] => [
  "sources:",
  "  - name: supply",
  `    part: ${part}`,
  "    set voltage: 13.8 V",
  `    fault: ${fault}`,
  "    lead: {length: 1.5 m, area: 6 mm2}",
];
const radio = (limits = "strict"): readonly string[] => [
  "loads:",
  `  - {name: radio, part: 100 W radio, lead: {length: 1 m, area: 4 mm2}, limits: ${limits}}`,
];
const crowbar = "crowbar: {part: SCR 55 A, trip voltage: 15.0 V, sense filter: fast}";

describe("verdicts on real runs", () => {
  test("which way each current went: one supply feeds back into another", () => {
    const second = source("linear supply 20 A", "none").slice(1);
    const both = [...source("linear supply 20 A"), ...second.map((line) => line.replace("name: supply", "name: B"))];
    const verdict = verdictOn([...both, ...radio()], "50 ms");
    const [feeds, fed] = verdict.notes.filter((note) => note.includes("at its terminals"));
    expect(feeds).toMatch(/^The supply had .* and gave up to [\d.]+ A\.$/);
    expect(fed).toMatch(/^B had .*took up to [\d.]+ A\.$/);
    expect(verdict.replace.join(" ")).toContain("Have B checked: others raised its terminals to");
  });

  test("a run that comes to rest says when, not where its totals are continued to", () => {
    const lines = [...source('"switch-mode supply 25 A, latch off"'), crowbar, ...radio()];
    const rest = (runFor: string) =>
      /The line came to rest at (.*); totals are continued to (.*)\./.exec(verdictOn(lines, runFor).notes.join(" "));
    const [, came = "", to] = rest("3 h") ?? [];
    expect(to).toBe("3 h");
    // What cools last, copper and the SCR's case, does so with time constants of a minute or a few: within the first hour it is over.
    expect(came).toMatch(/^\d+ min \d+ s$/);
    // A run that ends before has not come to rest.
    expect(rest("2 s")).toBeNull();
  });

  test("a hiccup supply trips again and again: safe, nothing beyond, a long-run estimate", () => {
    const verdict = verdictOn(
      [...source('"switch-mode supply 30 A, hiccup"'), "main fuse: blade fuse 25 A", crowbar, ...radio()],
      "2 s",
    );
    expect([verdict.grade, verdict.exitStatus]).toEqual(["inside", 0]);
    expect(verdict.tripping[0]?.count).toBeGreaterThanOrEqual(3);
    expect(verdict.tripping[0]?.longRun.join(" ")).toMatch(
      /^Estimate: the main fuse never melts, it settles [\d.]+ % of the way on average\./,
    );
    expect(verdict.tripping[0]?.fatigue).toHaveLength(1);
    expect(verdict.loads[0]?.starved?.comesBack).toBe("by itself");
    expect(verdict.notes.join(" ")).toContain("In the last full cycle the radio saw up to");
  });

  test("a constant-current supply holds the SCR on until it fails, and the verdict says when it passed its limit", () => {
    const verdict = verdictOn(
      [...source('"switch-mode supply 30 A, constant current"'), "main fuse: blade fuse 40 A", crowbar, ...radio()],
      "60 s",
    );
    expect([verdict.grade, verdict.exitStatus]).toEqual(["inside", 4]);
    expect(verdict.notes[0]).toMatch(
      /^The junction of the crowbar passed its limit of 125 °C [\d.]+ s \([\d.]+ min\) after the fault/,
    );
    expect(verdict.loads[0]?.starved?.comesBack).toBe("by hand");
  });

  test("the estimate made early agrees with the run that goes on", () => {
    const lines = [
      ...source('"switch-mode supply 30 A, constant current"'),
      "main fuse: blade fuse 40 A",
      crowbar,
      ...radio(),
    ];
    const seconds = (verdict: Judged) => {
      const said = verdict.pending[0]?.sentence ?? verdict.notes[0] ?? "";
      return Number(/limit of 125 °C ([\d.]+) s/.exec(said)?.[1]);
    };
    const early = verdictOn(lines, "6 s");
    expect(early.pending[0]?.sentence).toContain("its junction passes its limit of 125 °C");
    expect(seconds(early) / seconds(verdictOn(lines, "60 s"))).toBeCloseTo(1, 1);
  });

  test("without a protector the radio is beyond what it stands", () => {
    const verdict = verdictOn([...source('"switch-mode supply 30 A, hiccup"'), ...radio("parts rated 16 V")], "1 s");
    expect([verdict.grade, verdict.exitStatus]).toEqual(["beyond", 1]);
    expect(verdict.headline).toMatch(
      /^The radio stood at 2\d(\.\d)? V, above its maximum of 15\.9 V for 9\d\d ms: beyond what it stands/,
    );
    expect(verdict.done).toEqual(["The line has no protector at all."]);
  });

  test("a shorted pass transistor melts the main fuse: second run, recovery voltage from the trace", () => {
    const fault = "{kind: shorted pass transistor, pass resistance: 50 mohm}";
    const verdict = verdictOn(
      [...source("linear supply 20 A", fault), "main fuse: blade fuse 20 A", crowbar, ...radio()],
      "0.5 s",
    );
    expect(verdict.safe).toBe(true);
    expect(finding(verdict, "main fuse", "available short-circuit current").sentence).toContain(
      "(by a second run in which it cannot melt)",
    );
    const keep = finding(verdict, "main fuse", "voltage to keep off");
    expect(keep.severity).toBe("ok");
    expect(keep.found).toBeGreaterThan(15);
    expect(keep.found).toBeLessThan(25);
    expect(verdict.replace[2]).toBe("Find the fault before replacing the fuse.");
    const text = renderText(verdict, { width: 90 });
    expect(text).not.toMatch(/undefined|NaN|unknown\b.*\bunknown|Infinity|unlimited/);
  });
});
