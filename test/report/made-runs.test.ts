import { describe, expect, test } from "vitest";
import type { Run } from "../../packages/sim/src/model/result.ts";
import { countedFrom, waveformCsv } from "../../packages/sim/src/report/figure-csv.ts";
import { figureData } from "../../packages/sim/src/report/figure-data.ts";
import { headroomData } from "../../packages/sim/src/report/figure-data-headroom.ts";
import { surgeData } from "../../packages/sim/src/report/figure-data-surge.ts";
import { timeCurrentData } from "../../packages/sim/src/report/figure-data-time-current.ts";
import { currentsData, statesData } from "../../packages/sim/src/report/figure-data-views.ts";
import { runFacts } from "../../packages/sim/src/report/run-facts.ts";
import { type FigureName, figureOfRun, figures } from "../../packages/sim/src/report/run-figures.ts";
import type { Scenario, Supply } from "../../packages/sim/src/scenario/types.ts";
import { judge } from "../../packages/sim/src/verdict/judge.ts";
import type { Judged } from "../../packages/sim/src/verdict/types.ts";
import {
  barFound,
  blown,
  context,
  fuseFound,
  judged,
  loadFound,
  run,
  sourceFound,
  trace,
} from "../verdict/fixtures.ts";
import { battery, clamp, fuse, lead, radio, supply } from "../verdict/parts.ts";

const bare = { mainFuse: null, crowbar: null } as const;
const SOUND: Supply = { ...supply, fault: { kind: "none" } };

/** A run and its verdict. */
function told(over: Partial<Run> = {}, scenario: Partial<Scenario> = {}): { run: Run; verdict: Judged } {
  const made = run(over, scenario);
  return { run: made, verdict: judged(made) };
}

describe("a figure that has nothing to draw says why", () => {
  const missing = (name: FigureName, { run: made, verdict }: ReturnType<typeof told>) => {
    const figure = figureOfRun(name, { run: made, verdict, parsed: { fits: [] } });
    return "missing" in figure ? figure.missing : null;
  };

  test.each<[FigureName, string]>([
    ["currents", "this line has nothing that a figure of currents could show"],
    ["time-current", "this line has neither fuse nor SCR, so there are no curves to draw"],
    ["surge", "no SCR fired in this run, so there is no surge to draw"],
    ["withstand", "no load has a withstand curve, and none was above its maximum"],
    ["heat", "this line has neither SCR, clamp nor fuse, so there is no heat to draw"],
  ])("%s of a line without protection", (name, words) => {
    expect(missing(name, told({}, bare))).toBe(words);
  });

  test("what each device did, of a battery and a load alone", () => {
    expect(missing("states", told({}, { ...bare, sources: [battery] }))).toBe(
      "this line has nothing that a figure of states could show",
    );
  });

  test("over time, of a run that ended where it began", () => {
    const still = told({ trace: trace([0], { radio_V: [13.5] }) });
    for (const name of ["fault", "currents", "states", "withstand", "heat"] as const)
      expect(missing(name, still)).toBe("there is no figure of a run that did not get anywhere");
  });

  test("what was held against ratings, of a run without a verdict", () => {
    const made = run({
      outcome: { status: "stopped", time: 0, failure: null },
      trace: trace([0, 0.1], { radio_V: [13, 13] }),
    });
    const verdict = judge(made, context);
    expect(verdict.kind).toBe("not a verdict");
    const found = figures.map(({ name, of }) => [name, of({ run: made, verdict, fits: [] })] as const);
    const words = "a run without a verdict has nothing that could be held against ratings";
    for (const [name, figure] of found)
      if (!["fault", "currents", "states"].includes(name)) expect(figure, name).toEqual({ missing: words });
    expect(runFacts(made, verdict)).toMatch(/^No verdict · /);
    expect(statesData(made, verdict).subtitle).toBe(figureData(made, verdict).subtitle);
  });

  test("and one that nobody knows is told with those that there are", () => {
    const { run: made, verdict } = told();
    expect(() => figureOfRun("pie" as FigureName, { run: made, verdict, parsed: { fits: [] } })).toThrow(
      'there is no figure "pie"; known are fault, currents, states, time-current, surge, withstand, heat, headroom',
    );
  });
});

test("every picture of a run without a title has one", () => {
  const recorded = trace([0, 0.001034, 0.06526, 0.3], { radio_V: [13, 13, 17, 13], crowbar_A: [0, 300, 60, 0] });
  const { run: made, verdict } = told({ trace: recorded }, { title: "" });
  const titles = [
    figureData(made, verdict),
    currentsData(made, verdict),
    statesData(made, verdict),
    headroomData(verdict),
    surgeData(made, verdict),
    timeCurrentData(made, verdict, []),
  ].map((data) => data?.title);
  expect(titles).toEqual([
    "A fault on a 12 V line",
    "A fault on a 12 V line: what flowed?",
    "A fault on a 12 V line: who did what?",
    "A fault on a 12 V line: headroom",
    "A fault on a 12 V line: surge through the SCR",
    "A fault on a 12 V line: what goes first?",
  ]);
});

describe("the fault figure", () => {
  test("shades what no load minds; loads that agree on nothing are shown with the first one's window", () => {
    const other = (minimum: number, maximum: number) => ({
      ...radio,
      name: "lamp",
      limits: { ...radio.limits, minimum, maximum },
    });
    const windowOf = (lamp: ReturnType<typeof other>) => {
      const { run: made, verdict } = told(
        { loads: [loadFound(), loadFound({ name: "lamp" })] },
        { loads: [radio, lamp] },
      );
      return figureData(made, verdict).window;
    };
    expect(windowOf(other(10, 15))).toEqual({ minimum: 11.7, maximum: 15 });
    expect(windowOf(other(22, 30))).toEqual({ minimum: 11.7, maximum: 15.9 });
  });

  test("draws a clamp's peak rating where its sheet names one", () => {
    const limitOf = (peakCurrent: number | null) => {
      const recorded = trace([0, 0.3], { radio_V: [13, 13], clamp_A: [0, 1] });
      const ratings = { ...clamp.ratings, peakCurrent };
      const { run: made, verdict } = told({ trace: recorded }, { ...bare, clamp: { ...clamp, ratings } });
      return figureData(made, verdict).currents.map(({ label, limit }) => [label, limit?.value]);
    };
    expect(limitOf(70)).toEqual([["clamp", 70]]);
    expect(limitOf(null)).toEqual([["clamp", undefined]]);
  });

  test("marks where a load's voltage crosses its maximum, and a load that begins above it at the start", () => {
    const marked = (values: number[]) => {
      const { run: made, verdict } = told({ trace: trace([0, 0.1, 0.3], { radio_V: values }) });
      return figureData(made, verdict).events.filter(({ label }) => label === "the radio rises above 15.9 V");
    };
    // A third of the way from 15 V to 17.7 V.
    expect(marked([13, 15, 17.7]).map(({ time }) => time)).toEqual([expect.closeTo(0.1 + 0.2 / 3, 9)]);
    expect(marked([17, 16, 14]).map(({ time }) => time)).toEqual([0]);
    expect(marked([13, 15.9, 14])).toEqual([]);
  });
});

describe("times in a table", () => {
  test("count from the fault, or from the start where nothing is broken", () => {
    expect(countedFrom(run().scenario)).toEqual({ time: 0.001, what: "fault" });
    expect(countedFrom(run({}, { sources: [SOUND] }).scenario)).toEqual({ time: 0, what: "start" });
  });

  test("are those of the panels asked for alone", () => {
    const { run: made, verdict } = told({ trace: trace([0, 0.3], { radio_V: [13, 14], supply_A: [1, 2] }) });
    const head = (...panels: Parameters<typeof waveformCsv>[1]) =>
      [...waveformCsv(figureData(made, verdict), panels)][0].trim();
    expect(head("voltage")).toMatch(/radio_V$/);
    expect(head("current")).toMatch(/supply_lead_A$/);
    expect(head("voltage", "current")).toMatch(/radio_V,supply_lead_A$/);
  });
});

describe("the answer of the currents", () => {
  test("is the three largest, whichever way they flow", () => {
    const columns = { supply_A: [1, 5], main_fuse_A: [0, 2], crowbar_A: [0, 300], battery_A: [0, -40] };
    const { run: made, verdict } = told(
      { trace: trace([0, 0.3], columns), sources: [sourceFound(), sourceFound({ name: "battery" })] },
      { sources: [supply, battery] },
    );
    expect(currentsData(made, verdict).subtitle).toBe(
      "At most 300 A in the SCR, 40 A in the battery lead, 5 A in the supply lead.",
    );
  });

  test("is the verdict's where none was recorded", () => {
    const { run: made, verdict } = told();
    expect(currentsData(made, verdict).subtitle).toBe(verdict.headline);
  });
});

describe("the answer of the surge", () => {
  const surge = (over: Partial<Run>, scenario: Partial<Scenario> = {}) => {
    const time = [0, 0.001034, 0.06526, 0.3];
    const recorded = trace(time, {
      supply_A: [0, 50, 50, 0],
      main_fuse_A: [0, 50, 50, 0],
      crowbar_A: [0, 100, 100, 0],
    });
    const { run: made, verdict } = told({ trace: recorded, ...over }, scenario);
    return surgeData(made, verdict);
  };
  // 100 A and 50 A, even, between a firing and a stop.
  const lasted = 0.06526 - 0.001034;
  const squared = (amperes: number) => expect.closeTo(amperes ** 2 * lasted, 6);

  test("tells what the sources gave from what the capacitors dumped, and whether there was a fuse to melt", () => {
    expect(surge({})?.parts).toEqual([
      { label: "what the capacitors add", i2t: expect.closeTo((100 ** 2 - 50 ** 2) * lasted, 6) },
      { label: "through the fuse, which did not melt", i2t: squared(50) },
    ]);
    expect(surge({ fuses: [] }, { mainFuse: null })?.parts[1]).toEqual({ label: "from the sources", i2t: squared(50) });
  });

  test("is one bar where the feed was not recorded", () => {
    const recorded = trace([0, 0.001034, 0.06526, 0.3], { crowbar_A: [0, 100, 100, 0] });
    expect(surge({ trace: recorded })?.parts).toEqual([{ label: "all together", i2t: squared(100) }]);
    expect(surge({ trace: recorded, fuses: [] }, { mainFuse: null })?.parts).toHaveLength(1);
  });

  test("says that the SCR failed in the end", () => {
    expect(surge({})?.subtitle).toMatch(/% of what it stands\.$/);
    expect(surge({ crowbar: barFound({ failedShort: true }) })?.subtitle).toMatch(
      /% of what it stands, but in the end it overheated and failed\.$/,
    );
  });
});

describe("what goes first", () => {
  test("is told of the current that melted the fuse", () => {
    const { run: made, verdict } = told({ fuses: [fuseFound(blown)] });
    // 971 A²s in 64 ms.
    expect(timeCurrentData(made, verdict, [])?.subtitle).toMatch(/^At the 123 A RMS of this run /);
  });

  test("is told of no current where none was heavy, or its waveform is not there", () => {
    const quiet = told({ trace: trace([0, 0.3], { crowbar_A: [0, 0] }) });
    for (const { run: made, verdict } of [told(), quiet])
      expect(timeCurrentData(made, verdict, [])?.subtitle).toBe(
        "No heavy current flowed in this run; the curves tell what would give way first.",
      );
  });

  test("has a curve for an in-line fuse of a source, with its name", () => {
    const charger: Supply = { ...supply, name: "charger", lead: { ...lead, fuse } };
    const { run: made, verdict } = told({}, { mainFuse: null, sources: [charger] });
    expect(timeCurrentData(made, verdict, [])?.curves[0].label).toBe(
      "fuse of the charger (blade fuse 25 A) melts, from cold",
    );
  });
});

describe("the headroom", () => {
  const one = (over: object) => {
    const { verdict } = told();
    return headroomData({
      ...verdict,
      loads: [],
      findings: [{ ...verdict.findings[0], subject: "main fuse", quantity: "current", ...over }],
    });
  };

  test.each([
    [{ headroom: null, severity: "not rated" }, "No limit is known that could be compared."],
    [
      { headroom: 2, severity: "ok" },
      "No limit was passed; nearest to its own came: main fuse, current, 2 times inside.",
    ],
    [{ headroom: 0.5, severity: "beyond" }, "One limit was not kept; farthest past its own: main fuse, current."],
    [
      { headroom: 1.2, severity: "used up" },
      "One limit was not kept; the least headroom: main fuse, current, 1.2 times.",
    ],
  ])("of %j", (over, sentence) => {
    expect(one(over).subtitle).toBe(sentence);
  });
});
