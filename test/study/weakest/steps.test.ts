import { describe, expect, test } from "vitest";
import { runScenario } from "../../../packages/sim/src/report/run-scenario.ts";
import { changeTexts, type TextChange } from "../../../packages/sim/src/scenario/index.ts";
import { answerOf } from "../../../packages/sim/src/study/weakest/answer.ts";
import { lastingCurrent } from "../../../packages/sim/src/study/weakest/fault-current.ts";
import type { Parts } from "../../../packages/sim/src/study/weakest/plan.ts";
import { remedyOf } from "../../../packages/sim/src/study/weakest/remedy.ts";
import { matchParts } from "../../../packages/sim/src/study/weakest/run.ts";
import { MatchStudy } from "../../../packages/sim/src/study/weakest/study.ts";
import type { MatchAnswer, MatchOptions, Outcome } from "../../../packages/sim/src/study/weakest/types.ts";
import { dropCheck, loadWireChecks } from "../../../packages/sim/src/study/weakest/wire-rules.ts";
import { fuse, lead } from "../../verdict/parts.ts";
import { FUSED_BATTERY, STATION, shipped, shippedScenario } from "./lines.ts";

const text = shipped(STATION);
const FEW: MatchOptions = { fuses: ["blade fuse 30 A"], scrs: ["SCR 55 A"], wires: ["4 mm2"] };
const study = (options: MatchOptions = FEW): MatchStudy => new MatchStudy(text, "test.yaml", options);

/** Plans, and answers no run. */
function planned(options: MatchOptions = FEW): { made: MatchStudy; wanted: ReturnType<MatchStudy["next"]> } {
  const made = study(options);
  let wanted = made.next();
  while (wanted.kind === "working") wanted = made.next();
  return { made, wanted };
}
const answered = (answer: ReturnType<MatchStudy["result"]>): MatchAnswer => {
  if (answer.kind === "refused") throw new Error(answer.issues.map(({ message }) => message).join("; "));
  return answer;
};

describe("a study step by step", () => {
  test("says how far it is, and has no answer before its end", () => {
    const fresh = study();
    expect(fresh.progress.stage).toBe("looking at parts");
    expect(() => fresh.result()).toThrow(new RangeError("the study is not done: advance or stop it first"));
    expect(() => fresh.fileOf("a + b + c")).toThrow(new RangeError('there is no combination "a + b + c"'));
  });

  test("asks for the same run until that one's result is taken, then is done", () => {
    const { made, wanted } = planned({ ...FEW, load: 15 });
    if (wanted.kind !== "run") throw new Error("no run is wanted");
    expect(made.next()).toEqual(wanted);
    expect(made.progress).toMatchObject({ stage: "full runs", runs: 0 });
    const result = runScenario(wanted.text, wanted.file);
    made.take("another one", result);
    expect(made.next()).toEqual(wanted);
    made.take(wanted.id, result);
    expect(made.progress).toMatchObject({ stage: "full runs", runs: 1 });
    made.stop();
    expect(made.progress).toEqual({ stage: "done", runs: 1, of: 1 });
    expect(made.next()).toEqual({ kind: "done" });
    made.take(wanted.id, result);
    made.stop();
    expect(answered(made.result())).toMatchObject({ runs: 1, stopped: true });
  });

  test("stopped before anything was run says so, and that none was found yet", () => {
    const { made } = planned();
    made.stop();
    const { headline, notRun, sound } = answered(made.result());
    expect(sound).toEqual([]);
    expect(notRun.length).toBeGreaterThan(0);
    expect(headline).toMatch(/^Stopped early: Of \d+ combinations none found sound yet: /);
  });

  test("stopped at once still knows its parts; a study that was refused stays refused", () => {
    const fresh = study();
    fresh.stop();
    expect(answered(fresh.result()).fuses.length).toBeGreaterThan(0);
    const wrong = study({ ...FEW, most: 0 });
    wrong.stop();
    expect(wrong.result().kind).toBe("refused");
  });
});

test("what a sound combination leaves beyond its limit stands in the headline, and how narrowly it is sound", () => {
  const [part] = ["fuse", "SCR", "wire"].map((name) => ({ name, yours: true, changes: [], checks: [] }));
  const parts = { facts: {}, fuses: [part], scrs: [part], wires: [part], refused: { scrs: [], wires: [] } };
  const headline = (outcome: Partial<Outcome>) => {
    const sound = { id: "", ending: "shut off", sound: true, reasons: [], notes: [], nearest: null, ...outcome };
    const only = {
      fuse: "fuse",
      scr: "fuse",
      wire: "fuse",
      changed: 0,
      changes: [],
      checks: [],
      heatSink: null,
      inductance: null,
    };
    const all = [{ ...only, outcome: sound }] as unknown as MatchAnswer["all"];
    return answerOf(parts as unknown as Parts, all, { remedy: null, runs: 1, stopped: false }).headline;
  };
  const plain = "1 combination of 1 is sound. What stands in the file is one of them: the supply shuts itself off.";
  const nearest = { subject: "crowbar", quantity: "RMS current over 1 ms", headroom: 1.3 };
  expect(headline({ nearest })).toBe(plain);
  expect(
    headline({ nearest: { ...nearest, headroom: 1.01 }, hazards: ["The battery gasses. Explosion hazard."] }),
  ).toBe(
    `${plain} Its nearest limit is close: crowbar, RMS current over 1 ms, ×1.01. Sound are its fuse, SCR, wire and loads, but not the rest: the battery gasses. Explosion hazard.`,
  );
});

test("a file without a fuse before its SCR is told what to put there", () => {
  const bare = changeTexts(text, [[["main fuse"], "none"]]);
  const { headline, sound } = answered(matchParts(bare, "test.yaml", FEW));
  expect(sound.length).toBeGreaterThan(0);
  expect(headline).toMatch(
    /What stands in the file has no fuse before its SCR\. First choice: blade fuse 30 A with SCR 55 A/,
  );
});

test("a fuse in a battery's lead is sought there, and the other source's lead is none of its business", () => {
  const { facts, all, fuses } = answered(
    matchParts(FUSED_BATTERY, "test.yaml", { ...FEW, fuses: ["blade fuse 40 A"] }),
  );
  expect(facts.fusePlace).toBe("in-line fuse of the hut battery");
  expect(fuses.find(({ yours }) => yours)?.name).toBe("blade fuse 30 A");
  const other = all.find(({ fuse: name }) => name === "blade fuse 40 A");
  const paths = other?.changes.map(([path]) => path.join("."));
  expect(paths).toContain("sources.1.lead.fuse");
  expect(paths).not.toContain("main fuse");
});

describe("a change in words", () => {
  const tried = { id: "a", parts: ["fuse A", "SCR B", "4 mm²"], words: ["a larger SCR", "6 mm²"], changes: [] };
  const shown = (over: Partial<Outcome>) =>
    remedyOf({ ...tried, scr: "SCR B", runs: true }, { sound: false, reasons: [], ...over } as Outcome);

  test("says whether a full run was made of it, and what that showed", () => {
    const start = "with fuse A, SCR B and 4 mm² it would take a larger SCR and 6 mm²";
    expect(remedyOf({ ...tried, scr: "SCR B", runs: false }, null)).toMatchObject({
      verified: false,
      sentence: `The cheapest change found: ${start}, by the rules alone: no full run was made of it.`,
    });
    expect(shown({ sound: true })).toMatchObject({
      verified: true,
      sentence: `The cheapest change found: ${start}; a full run with it is sound.`,
    });
    expect(shown({ reasons: ["The fuse did not open."] })).toMatchObject({
      verified: false,
      sentence: `What comes nearest: ${start}, by the rules alone; a full run shows that it is not enough: The fuse did not open.`,
    });
  });
});

describe("the voltage that a line loses in service", () => {
  const line = shippedScenario();
  const draws = [{ load: "relay radio", current: 20, byClass: false, transmits: false }];
  const drop = (scenario = line, allowed: number | null = null) => dropCheck("4 mm²", scenario, draws, 13.8, allowed);

  test("is held against what the load needs, or what the user allows where that is less", () => {
    expect(drop().check.sentence).toMatch(/V may be lost before the relay radio falls below its 11\.7 V\.$/);
    expect(drop(line, 0.1).check).toMatchObject({ kept: false, allowed: 0.1 });
    expect(drop(line, 0.1).check.sentence).toMatch(/; 100 mV was allowed\.$/);
    expect(drop(line, 50).check.sentence).toMatch(/V may be lost before/);
  });

  test("counts a diode in the source's lead: its forward voltage, and its resistance at what flows", () => {
    const [source] = line.sources;
    const diode = { forwardVoltage: 0.4, resistance: 0.005 };
    const behind = { ...line, sources: [{ ...source, diode }] } as typeof line;
    expect(drop(behind).drop - drop().drop).toBeCloseTo(0.4 + 20 * 0.005, 9);
  });
});

describe("the wire of a load behind a fuse", () => {
  const line = shippedScenario();
  const [load] = line.loads;
  const withLead = (over: Partial<typeof lead>) =>
    ({ ...line, loads: [{ ...load, lead: { ...load.lead, ...over } }] }) as typeof line;

  test("with a fuse of its own is that one's business", () => {
    expect(loadWireChecks("a fuse", fuse, withLead({ fuse }), [{}])).toEqual([]);
  });

  test("that would get too hot asks for the next size on sale, or for better insulation where no size would do", () => {
    const thin = { ...fuse, minimumMeltingCurrent: 60 };
    const [check] = loadWireChecks("the fuse", thin, withLead({ copperArea: 1e-6 }), [{}]);
    expect(check.kept).toBe(false);
    expect(check.mend?.words).toMatch(/^\d+(?:\.\d)? mm² for the lead of the relay radio$/);
  });
});

describe("what flows into a fired SCR for good", () => {
  const place = { kind: "main" } as const;
  const limited = (limit: string, ...more: TextChange[]) =>
    lastingCurrent(
      shippedScenario(STATION, [
        [["sources", 0, "limit"], limit],
        [["sources", 0, "fault"], "{kind: voltage turned up, end voltage: 18 V, slew: 5 V/s}"],
        ...more,
      ]),
      place,
    );

  test.each([
    ["{style: constant current, current: 20 A}", "steady", null],
    ["{style: hiccup, current: 20 A, detection time: 10 ms, off time: 300 ms, ramp time: 20 ms}", "pulses", 0.01],
    ["{style: latch off, current: 20 A, detection time: 10 ms}", "ends", 0.01],
  ])("behind %s is %s", (limit, style, detection) => {
    const found = limited(limit);
    expect(found.style).toBe(style);
    expect(found.detectionTime).toBe(detection);
    expect(found.scr).toBeGreaterThan(19);
    expect(found.scr).toBeLessThan(21);
  });

  test("from a panel is what it gives into a short, once its controller has failed", () => {
    const panel = (kind: "none" | "shorted controller") => {
      const { ...line } = shippedScenario();
      const roof = {
        kind: "panel",
        name: "roof",
        lead,
        diode: null,
        shortCircuitCurrent: 5.8,
        openCircuitVoltage: 22,
        kneeVoltage: 1,
        outputCapacitance: 1e-4,
        esr: 0.1,
        fault: { kind },
      } as const;
      return lastingCurrent({ ...line, sources: [roof] }, place);
    };
    expect(panel("shorted controller").scr).toBeCloseTo(5.8, 2);
    expect(panel("none").scr).toBeCloseTo(0, 6);
    expect(panel("none").detectionTime).toBeNull();
  });
});
