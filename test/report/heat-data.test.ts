import { describe, expect, test } from "vitest";
import type { ClampFindings, CrowbarFindings, FuseFindings, Run } from "../../packages/sim/src/model/result.ts";
import { heatData } from "../../packages/sim/src/report/figure-data-heat.ts";
import type { Scenario, Supply } from "../../packages/sim/src/scenario/types.ts";
import { barFound, clampFound, fuseFound, idle, judged, run, trace } from "../verdict/fixtures.ts";
import { clamp, crowbar, fuse, lead, supply } from "../verdict/parts.ts";

/** The heat of a hand-made run in which all junctions stand at 30 °C and all fuses at a tenth of the way. */
function heat(over: Partial<Run>, scenario: Partial<Scenario> = {}) {
  const recorded = trace([0, 0.3], {
    radio_V: [13.5, 13.5],
    crowbar_junction_degC: [30, 30],
    supply_own_crowbar_junction_degC: [30, 30],
    charger_own_crowbar_junction_degC: [30, 30],
    clamp_rise_K: [0, 5],
    main_fuse_melt_share: [0.1, 0.1],
    charger_fuse_melt_share: [0.1, 0.1],
  });
  const made = run({ trace: recorded, ...over }, scenario);
  return heatData(made, judged(made));
}

const bare = { mainFuse: null, crowbar: null } as const;
const own = (name: string): Supply => ({ ...supply, name, ownCrowbar: crowbar });

test("a line without SCR, clamp and fuse has no heat to draw", () => {
  expect(heat({}, bare)).toBeNull();
  expect(heat({}, { ...bare, mainFuse: fuse })?.melting.map(({ label }) => label)).toEqual(["main fuse"]);
});

test("a scenario without a title has a picture with one all the same", () => {
  expect(heat({})?.title).toBe("Mountain hut relay: shorted pass transistor: how hot?");
  expect(heat({}, { title: "" })?.title).toBe("A fault on a 12 V line: how hot?");
});

test("times count from the fault, and from the start where nothing is broken", () => {
  expect(heat({})).toMatchObject({ zero: "fault", faultTime: 0.001, restsUntil: null });
  expect(heat({}, { sources: [{ ...supply, fault: { kind: "none" } }] })).toMatchObject({
    zero: "start",
    faultTime: 0,
  });
});

test("a run that came to rest is drawn on to its end", () => {
  expect(heat({ outcome: { status: "at rest", time: 0.2, failure: null } })?.restsUntil).toBe(0.3);
});

describe("what is said of the junction of the line's SCR", () => {
  const never: Partial<Run> = { fuses: [] };
  test.each<[string, Partial<CrowbarFindings>, string]>([
    ["never fired", idle, "The SCR's junction stayed at 25 °C: it never fired."],
    [
      "fired, within what it is rated for",
      { peakTemperature: { value: 104.6, time: 0.065 } },
      "The SCR's junction reached 105 °C (rated 125 °C) 64 ms after the fault.",
    ],
    [
      "grew hotter than that",
      { peakTemperature: { value: 160, time: 0.065 } },
      "The SCR's junction reached 160 °C, above the 125 °C it is rated for, 64 ms after the fault.",
    ],
    [
      "failed short",
      { peakTemperature: { value: 300, time: 0.065 }, failedShort: true },
      "The SCR's junction passed 250 °C and counts as destroyed.",
    ],
  ])("that %s", (_, found, sentence) => {
    expect(heat({ ...never, crowbar: barFound(found) }, { mainFuse: null })?.subtitle).toBe(sentence);
  });
});

describe("SCRs that are built into supplies", () => {
  const built = (...names: string[]) =>
    heat(
      { fuses: [], ownCrowbars: names.map((source) => ({ source, findings: barFound() })) },
      { ...bare, sources: names.map(own) },
    );

  test("are told with the supply's name; one alone needs none in the picture", () => {
    const alone = built("supply");
    expect(alone?.temperatures.map(({ label }) => label)).toEqual(["own SCR junction"]);
    expect(alone?.subtitle).toBe(
      "The junction of the supply own SCR reached 105 °C (rated 125 °C) 64 ms after the fault.",
    );
    const two = built("supply", "charger");
    expect(two?.temperatures.map(({ label }) => label)).toEqual([
      "supply own SCR junction",
      "charger own SCR junction",
    ]);
  });

  test("have their two limits in the picture", () => {
    expect(built("supply")?.temperatures[0].limits).toEqual([
      { value: 125, label: "own SCR rated for" },
      { value: 250, label: "own SCR fails above" },
    ]);
  });
});

describe("what is said of the clamp", () => {
  const line = { ...bare, clamp };
  const said = (found: Partial<ClampFindings>, temperature: number | null = 150) =>
    heat({ clamp: clampFound(found) }, { ...line, clamp: { ...clamp, ratings: { ...clamp.ratings, temperature } } });

  test("is how hot it grew from the surroundings on, beside what it is rated for where its sheet says that", () => {
    expect(said({ peakRise: 60 })?.subtitle).toBe("The clamp's junction reached 85 °C (rated 150 °C).");
    expect(said({ peakRise: 60 })?.temperatures[0]).toMatchObject({
      values: Float64Array.of(25, 30),
      limits: [{ value: 150, label: "clamp rated for" }],
    });
    expect(said({ peakRise: 60 }, null)?.subtitle).toBe("The clamp's junction reached 85 °C.");
    expect(said({ peakRise: 60 }, null)?.temperatures[0].limits).toEqual([]);
  });

  test("is when it failed, and nothing of one that carried nothing", () => {
    expect(said({ peakRise: 175, failedShort: true, failTime: 0.005 })?.subtitle).toBe(
      "The clamp failed short 4 ms after the fault and reached 200 °C.",
    );
    expect(said({ peakRise: 0 })?.subtitle).toBe("");
  });
});

describe("what is said of the fuses", () => {
  const charger = { ...supply, name: "charger", lead: { ...lead, fuse } };
  const second = { part: "in-line fuse", owner: "charger" } as const;
  const said = (main: Partial<FuseFindings>, inLine: Partial<FuseFindings>) =>
    heat(
      { fuses: [fuseFound(main), fuseFound({ subject: second, ...inLine })] },
      { crowbar: null, sources: [charger] },
    );

  test.each<[string, Partial<FuseFindings>, Partial<FuseFindings>, string]>([
    ["the nearest to melting", { peakTheta: 0.3 }, { peakTheta: 0.5 }, "charger came 50 % of the way to melting."],
    ["the first to melt", { meltTime: 0.065 }, { meltTime: 0.031 }, "charger melted 30 ms after the fault."],
    [
      "the one that melted, however near the other came",
      { meltTime: 0.065 },
      { peakTheta: 0.99 },
      "melted 64 ms after",
    ],
  ])("is said of %s", (_, main, inLine, words) => {
    const shown = said(main, inLine);
    expect(shown?.subtitle.replaceAll("\u00a0", " ")).toContain(words);
    expect(shown?.melting.map(({ label }) => label)).toEqual(["main fuse", "fuse of the charger"]);
  });
});
