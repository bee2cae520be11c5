import { readFileSync } from "node:fs";
import { join } from "node:path";
import { type Answered, runScenario } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import type { Run } from "../../packages/sim/src/model/result.ts";
import { renderText } from "../../packages/sim/src/report/text.ts";
import type { Scenario } from "../../packages/sim/src/scenario/types.ts";
import { barFound, clampFound, fuseFound, judged, leadFound, run, sourceFound, trace } from "./fixtures.ts";
import { battery, clamp, fuse } from "./parts.ts";

const told = (over: Partial<Run>, scenario: Partial<Scenario> = {}) => judged(run(over, scenario));
const held = { conductingAtEnd: true, stops: [], peakTemperature: { value: 60, time: 60 }, endTemperature: 60 };
const holding = () => {
  const columns = trace([0, 60], { radio_V: [13.5, 1.2], crowbar_A: [0, 30] });
  return told({ crowbar: barFound(held), trace: columns }, { endTime: 60 });
};
const firings = [0.1, 0.7, 1.3, 1.9, 2.5];
const longRun = {
  meanPower: 4,
  restTemperature: 47,
  timeToJunctionLimit: 500,
  swing: 90,
  timeToPeakLimit: 97.5,
  fuses: [
    {
      label: fuse.label,
      subject: { part: "main fuse", owner: "" } as const,
      meanLoad: 1.4,
      restTheta: null,
      restPeak: null,
      peakMeltTime: null,
      meltTime: 720,
    },
  ],
  clamps: [],
  leads: [],
};

describe("what is not over when the run ends", () => {
  test("nothing, where nothing goes on", () => {
    expect(told({}).pending).toEqual([]);
    expect(renderText(told({ events: [] }))).toContain("Nothing went beyond its rating.");
  });

  test("a held crowbar: the estimate stands here and not in the notes, and the text says that it speaks of this run", () => {
    const verdict = holding();
    expect(verdict.pending.map(({ subject, kind }) => [subject, kind])).toEqual([["crowbar", "held on"]]);
    expect(verdict.notes.join(" ")).not.toContain("holds the crowbar on");
    const text = renderText({ ...verdict, findings: [] }).replace(/\s+/g, " ");
    expect(text).toContain("Nothing went beyond its rating in this run. Not over yet - The line holds the crowbar on");
  });

  test("counts for the exit status where a part passes its rating by the estimate, and only there", () => {
    const shipped = (name: string, change: (text: string) => string) => {
      const text = readFileSync(join(import.meta.dirname, "../../packages/sim/scenarios", `${name}.yaml`), "utf8");
      const { verdict } = runScenario(change(text), `${name}.yaml`) as Answered;
      if (verdict.kind !== "verdict") throw new Error("no verdict");
      return { status: verdict.exitStatus, passes: verdict.pending.map(({ passesRating }) => passesRating) };
    };
    // 77 A into an SCR on its usual heat sink: past 125 °C within seconds.
    expect(shipped("01-shorted-pass-transistor", (text) => text.replace("main fuse: blade fuse 20 A\n", ""))).toEqual({
      status: 4,
      // The SCR, and the supply's lead: (5e-15·77²·60/(6e-6)²) K at held resistance settle at 86 °C, 70 °C are allowed.
      passes: [true, true],
    });
    // Still rising past the radio's limit when the run ends.
    const slow = "fault: {kind: lost feedback, ceiling voltage: 20 V, slew: 1 V/s}";
    const bare = (text: string) => text.replace(/fault: \{kind.*\}/, slow).replace(/crowbar: .*\n/, "");
    expect(shipped("01-shorted-pass-transistor", bare)).toEqual({ status: 1, passes: [true] });
    expect(shipped("02-hiccup-supply", (text) => text)).toMatchObject({ status: 0, passes: [false] });
  });

  test("repeated tripping, with what happens first; not where it ended", () => {
    const cycling = { period: 0.6, onShare: 0.05, longRun };
    const crowbarFound = barFound({ firings, stops: [], cycling });
    expect(told({ crowbar: crowbarFound }, { endTime: 3 }).pending).toEqual([
      {
        subject: "crowbar",
        kind: "repeated tripping",
        sentence:
          "The crowbar still trips every 600 ms when the run ends, and nothing in the line ends that. Estimate: first the peaks of the junction of the crowbar pass its limit of 125 °C about 100 s (1.7 min) after the fault.",
        passesRating: true,
        endedBy: null,
      },
    ]);
    expect(told({ crowbar: crowbarFound }, { endTime: 3 }).exitStatus).toBe(4);
    const melts = { ...longRun, timeToPeakLimit: null, timeToJunctionLimit: null };
    const [first] = told(
      { crowbar: barFound({ firings, cycling: { ...cycling, longRun: melts } }) },
      { endTime: 3 },
    ).pending;
    expect(first?.sentence).toContain("first the main fuse melts about 12 min (0.2 h) after the fault.");
    expect(first?.passesRating).toBe(false);
    expect(told({ crowbar: crowbarFound }, { endTime: 10 }).pending).toEqual([]);
  });

  test("a battery that is being charged: when it is full at that current; a float charge is no word worth", () => {
    const charging = (amperes: number, end: number) =>
      told(
        {
          sources: [sourceFound({ name: "battery", charge: { end, lowest: 0.5, highest: end } })],
          trace: trace([0, 3600], { radio_V: [13.5, 13.5], battery_A: [-amperes, -amperes] }),
        },
        { sources: [battery], endTime: 3600 },
      ).pending;
    const current = battery.capacityAh / 10;
    // A tenth of its capacity an hour and half of it missing: five hours from the end of the run, one hour after its start.
    const [told5h] = charging(current, 0.5);
    expect(told5h?.kind).toBe("charging");
    expect(told5h?.sentence).toMatch(/Estimate: at that current it is full 6 h after the start/);
    expect(charging(current, 1.02)[0]?.sentence).toContain("It is full already and goes on being overcharged");
    expect(charging(battery.capacityAh / 200, 0.5)).toEqual([]);
    expect(charging(-current, 0.5)).toEqual([]);
  });
});

describe("a finding that may end in a fire says so, in its mark as in its sentence", () => {
  const failed = { failedShort: true, conductingAtEnd: true };
  const amperes = (last: number) => trace([0, 0.3], { radio_V: [13.5, 1], crowbar_A: [0, last] });
  const cases: readonly [string, ReturnType<typeof told>, readonly string[]][] = [
    [
      "a lead past its insulation",
      told({ leads: [leadFound({ peakRise: 400, i2t: 4e5, peakCurrent: 400 })] }),
      ["lead of the supply"],
    ],
    ["a junction that failed and is still fed", told({ crowbar: barFound(failed), trace: amperes(30) }), ["crowbar"]],
    ["a junction that failed and is not fed any more", told({ crowbar: barFound(failed), trace: amperes(0) }), []],
    ["a rise that nobody knows the end of", told({ crowbar: barFound({ firstMicrosecondRise: 400e6 }) }), []],
    [
      "a fuse that never clears",
      told({ fuses: [fuseFound({ state: "clearing", meltTime: 0.1, peakVoltage: 20 })] }),
      ["main fuse"],
    ],
    [
      "a battery overcharged",
      told(
        { sources: [sourceFound({ name: "battery", charge: { end: 1.1, lowest: 0.8, highest: 1.1 } })] },
        { sources: [battery] },
      ),
      ["battery"],
    ],
    [
      "a clamp that failed short",
      told({ crowbar: null, clamp: clampFound({ failedShort: true, failTime: 0.1 }) }, { crowbar: null, clamp }),
      ["clamp"],
    ],
  ];
  test.each(cases)("%s", (_, verdict, subjects) => {
    const burning = verdict.findings.filter(({ hazard }) => hazard === "fire");
    expect([...new Set(burning.map(({ subject }) => subject))]).toEqual(subjects);
    const said = verdict.findings.filter(({ sentence }) => /fire hazard|explosion|may burn/i.test(sentence));
    expect(said).toEqual(burning);
  });
});
