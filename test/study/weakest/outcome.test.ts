import { describe, expect, it } from "vitest";
import { type Answered, runScenario } from "../../../packages/sim/src/report/run-scenario.ts";
import { outcomeOf } from "../../../packages/sim/src/study/weakest/outcome.ts";
import type { Judged, Verdict } from "../../../packages/sim/src/verdict/types.ts";
import { show } from "../../../packages/sim/src/verdict/words.ts";
import { STATION, shipped } from "./lines.ts";

const found = runScenario(shipped(STATION), "test.yaml", { record: false });
if (found.kind === "refused" || found.verdict.kind !== "verdict") throw new Error("no verdict");
const answer: Answered = found;
const judged: Judged = { ...found.verdict, findings: [], tooClose: [] };
const [finding] = found.verdict.findings;
const { run } = answer;
const [fuse] = run.fuses;
const { crowbar } = run;
const spec = run.scenario.crowbar;
if (crowbar === null || spec === null) throw new Error("no crowbar");
type Crowbar = typeof crowbar;
type Fuse = typeof fuse;

const INTACT: Partial<Fuse> = { state: "intact", meltTime: null, openTime: null, letThroughI2t: null, peakTheta: 0.4 };

interface Change {
  readonly crowbar?: Partial<Crowbar>;
  readonly fuse?: Partial<Fuse>;
  readonly run?: Partial<Answered["run"]>;
  readonly verdict?: Partial<Judged>;
}

/** What a run came to that differs in this; its SCR stays within its I²t. */
function outcome(change: Change = {}, place: Parameters<typeof outcomeOf>[2] = { kind: "main" }) {
  const changed = {
    ...run,
    crowbar: { ...crowbar, totalI2t: 100, worst10msI2t: 100, ...change.crowbar } as Crowbar,
    fuses: [{ ...fuse, ...change.fuse }],
    ...change.run,
  };
  return outcomeOf("a + b + c", { ...answer, run: changed, verdict: { ...judged, ...change.verdict } }, place);
}

const AT_END = { ...run.atEnd, crowbar_A: 30 };

describe("a run that came to nothing", () => {
  it("refused: every error, no warning", () => {
    const refused = runScenario("title: [", "test.yaml");
    if (refused.kind !== "refused") throw new Error("answered");
    const [first] = refused.issues;
    const issues = [
      first,
      { ...first, severity: "warning" as const, message: "By the way." },
      { ...first, message: "Two." },
    ];
    expect(outcomeOf("x", { ...refused, issues }, { kind: "main" })).toMatchObject({
      id: "x",
      sound: false,
      reasons: [first.message, "Two."],
    });
  });

  it("broken off: what the verdict says", () => {
    const verdict = { ...judged, kind: "not a verdict", headline: "NOT A VERDICT." } as unknown as Verdict;
    expect(outcomeOf("x", { ...answer, verdict }, { kind: "main" })).toMatchObject({
      sound: false,
      reasons: ["NOT A VERDICT."],
    });
  });
});

describe("how it ended", () => {
  it("by its fuse, so long after the fault", () => {
    const openTime = run.scenario.faultTime + 0.2;
    expect(outcome({ fuse: { openTime } })).toMatchObject({ ending: "fuse blown", sound: true, reasons: [] });
    expect(outcome({ fuse: { openTime } }).openAfter).toBeCloseTo(0.2, 9);
  });

  it("not at all: the SCR never fired, so nothing is proved", () => {
    const never = { crowbar: { firings: [] }, fuse: INTACT };
    expect(outcome(never)).toMatchObject({ ending: "not fired", sound: false, openAfter: null });
    expect(outcome(never).reasons).toEqual(["The SCR never fired in this run, so nothing was put to the test."]);
    expect(outcome({ run: { crowbar: null } }).reasons).toEqual(["The line has no crowbar."]);
    const bare = outcome({ run: { crowbar: null, fuses: [], scenario: { ...run.scenario, crowbar: null } } });
    expect(bare).toMatchObject({ ending: "not fired", openAfter: null, peakScrCurrent: 0, peakJunction: Number.NaN });
  });

  it("by the supply, which shuts itself off", () => {
    expect(outcome({ crowbar: { conductingAtEnd: false, cycling: null }, fuse: INTACT })).toMatchObject({
      ending: "shut off",
      sound: true,
    });
  });

  it("by another fuse than the one that is asked about, where the SCR conducts no more", () => {
    const other = { ...fuse, subject: { part: "in-line fuse", owner: "hut battery" }, openTime: 1 } as Fuse;
    const fuses = [{ ...fuse, ...INTACT } as Fuse, other];
    const off = { conductingAtEnd: false, cycling: null };
    expect(
      outcome({ crowbar: off, run: { fuses, crowbar: { ...crowbar, ...off, totalI2t: 1, worst10msI2t: 1 } } }),
    ).toMatchObject({
      ending: "fuse blown",
      openAfter: null,
      sound: true,
    });
  });

  it("not yet: the fuse has melted and arcs on", () => {
    const arcing = {
      crowbar: { conductingAtEnd: true, cycling: null },
      fuse: { ...INTACT, state: "clearing", peakTheta: 1 },
    } as const;
    expect(outcome(arcing)).toMatchObject({ ending: "not ended", sound: false });
    expect(outcome(arcing).reasons).toEqual(["The fuse melted and has not opened when the run ends."]);
  });

  it("a fuse of one source is open, and another source goes on feeding the SCR", () => {
    const owner = run.scenario.sources[0].name;
    const open = { ...fuse, subject: { part: "in-line fuse", owner }, openTime: 1 } as Fuse;
    const held = { ...crowbar, conductingAtEnd: true, cycling: null, totalI2t: 1, worst10msI2t: 1, endTemperature: 40 };
    const scenario = { ...run.scenario, crowbar: { ...spec, caseToAmbient: 0.1 } };
    const told = outcome(
      { run: { fuses: [open], crowbar: held, atEnd: AT_END, scenario } },
      { kind: "source", index: 0 },
    );
    expect(told.ending).toBe("held on");
    expect(told.notes).toContain(
      "Nothing in the line ends it: the SCR carries 30 A until somebody switches the source off.",
    );
  });
});

describe("an SCR that is held on", () => {
  const held = (caseToAmbient: number, change: Partial<Fuse> = INTACT) =>
    outcome({
      crowbar: { conductingAtEnd: true, cycling: null, endTemperature: 40 },
      fuse: change,
      run: { atEnd: AT_END, scenario: { ...run.scenario, crowbar: { ...spec, caseToAmbient } } },
    });

  it("and gets too hot: where its junction settles, and how far the fuse came", () => {
    // By hand: losses times every thermal resistance on the way, above ambient.
    const watts = 30 * (spec.thresholdVoltage + 30 * spec.slopeResistance);
    const inner = spec.junctionStages.reduce((sum, { resistance }) => sum + resistance, 0);
    const rest = show(run.scenario.ambient + watts * (inner + 10), "temperature");
    const { reasons, ending, sound } = held(10);
    expect({ ending, sound }).toEqual({ ending: "held on", sound: false });
    expect(reasons).toEqual([
      `The SCR is held on with 30 A (the fuse came 40 % of the way to melting); its junction settles at ${rest}, and 125 °C is allowed.`,
    ]);
  });

  it("and stands it on a large heat sink: sound, and a reader should know", () => {
    const { reasons, notes, sound } = held(0.1);
    expect({ reasons, sound }).toEqual({ reasons: [], sound: true });
    expect(notes).toEqual([
      "Nothing in the line ends it: the SCR carries 30 A until somebody switches the source off.",
    ]);
  });
});

describe("a crowbar that trips again and again", () => {
  const cycling = (timeToPeakLimit: number | null, peakMeltTime: number | null, others: object = {}) =>
    outcome({
      crowbar: {
        conductingAtEnd: false,
        cycling: {
          ...others,
          longRun: { timeToPeakLimit, fuses: [{ peakMeltTime }] },
        } as unknown as Crowbar["cycling"],
      },
      fuse: INTACT,
    });

  it.each([
    ["its junction never passes the limit", null, null, []],
    ["a fuse melts before", 100, 50, []],
    [
      "it does, and no fuse melts",
      30,
      null,
      ["The SCR trips again and again; its junction passes 125 °C after 30 s (0.5 min)."],
    ],
    ["it does before the fuse melts", 5, 50, ["The SCR trips again and again; its junction passes 125 °C after 5 s."]],
    ["it is there already", 0, null, ["The SCR trips again and again; its junction passes 125 °C at once."]],
  ] as const)("%s", (_, toLimit, melts, reasons) => {
    const told = cycling(toLimit, melts);
    expect(told).toMatchObject({ ending: "repeated tripping", sound: reasons.length === 0, reasons });
  });

  it("tells what becomes of it", () => {
    const tripping = [{ sentence: "It trips 4 times a second." }] as unknown as Judged["tripping"];
    const told = outcome({
      crowbar: { conductingAtEnd: false, cycling: { longRun: null } as unknown as Crowbar["cycling"] },
      fuse: INTACT,
      verdict: { tripping },
    });
    expect(told).toMatchObject({ ending: "repeated tripping", sound: true, notes: ["It trips 4 times a second."] });
  });
});

describe("reasons and notes of the verdict", () => {
  const say = (subject: string, severity: typeof finding.severity, more: Partial<typeof finding> = {}) => ({
    ...finding,
    subject,
    severity,
    sentence: `${subject}: ${severity}.`,
    ...more,
  });
  const [load] = judged.loads;
  const close = (subject: string) => ({
    ...found.verdict,
    subject,
    quantity: "",
    dimension: "voltage" as const,
    level: 1,
    found: 1,
    sentence: `${subject} by a hair.`,
  });

  it("parts that this is about are reasons, others are notes", () => {
    const findings = [
      say("crowbar", "beyond"),
      say("lead of the station supply", "unknown"),
      say("clamp", "beyond"),
      say("crowbar", "used up"),
      say("main fuse", "not rated", { quantity: "available short-circuit current" }),
      say("main fuse", "ok"),
    ];
    const { reasons, notes, hazards, sound } = outcome({ verdict: { findings } });
    expect(sound).toBe(false);
    expect(hazards).toEqual(["clamp: beyond."]);
    expect(reasons).toEqual(["crowbar: beyond.", "lead of the station supply: unknown.", "main fuse: not rated."]);
    expect(notes).toEqual(["crowbar: used up.", "clamp: beyond."]);
  });

  it("a load that is lost is a reason, one that withstood it a note", () => {
    const loads = [
      { ...load, grade: "beyond" as const, sentence: "Lost." },
      { ...load, grade: "withstood" as const, sentence: "Withstood." },
    ];
    expect(outcome({ verdict: { loads } })).toMatchObject({ reasons: ["Lost."], notes: ["Withstood."] });
  });

  it("what is too close to call is a reason where it is a part or a load of this line", () => {
    const tooClose = [close("crowbar"), close("relay radio"), close("clamp")];
    expect(outcome({ verdict: { tooClose } }).reasons).toEqual([
      "Too close to call: crowbar by a hair.",
      "Too close to call: relay radio by a hair.",
    ]);
  });

  it("the nearest limit is the one with the least headroom, the way to melting not counted", () => {
    const findings = [
      say("crowbar", "ok", { quantity: "surge", headroom: 3 }),
      say("main fuse", "ok", { quantity: "voltage", headroom: 2 }),
      say("main fuse", "ok", { quantity: "way to melting", headroom: 1 }),
      say("clamp", "ok", { quantity: "energy", headroom: 1.1 }),
      say("crowbar", "ok", { quantity: "unrated", headroom: null }),
    ];
    expect(outcome({ verdict: { findings } }).nearest).toEqual({
      subject: "main fuse",
      quantity: "voltage",
      headroom: 2,
    });
    expect(outcome().nearest).toBeNull();
  });
});

describe("I²t of the SCR", () => {
  const { i2t, surgeWindows } = spec.ratings;
  const long = surgeWindows.filter(({ duration }) => duration > 10e-3);

  it("beyond its rating within 10 ms is a reason", () => {
    const { reasons } = outcome({ crowbar: { worst10msI2t: i2t * 1.5, totalI2t: i2t * 2 } });
    expect(reasons).toEqual([
      `The SCR carried ${show(i2t * 1.5, "I2t")} within 10 ms; its I²t is ${show(i2t, "I2t")}.`,
    ]);
  });

  it("of the whole run beyond that is stood by the nearest surge window", () => {
    expect(long.length).toBeGreaterThan(1);
    const worstWindows = long.map(({ duration, rms }, k) => ({ duration, i2t: 0, rms: rms * (k === 1 ? 0.9 : 0.5) }));
    const once = {
      worst10msI2t: 100,
      totalI2t: 300,
      firings: [0.02],
      worstWindows,
    };
    const [note] = outcome({ crowbar: once }).notes;
    expect(note).toContain("The SCR carried 100 A²s within 10 ms");
    expect(note).toContain("The 300 A²s of the whole run it stands by its surge windows: at the nearest ");
    expect(note).toContain(`where ${show(long[1].rms, "current")} are allowed.`);
    // A shorter one may be nearer: the headroom tells of all, this of what the I²t does not speak of.
    expect(note).toContain(`at the nearest of those longer than 10 ms ${show(long[1].rms * 0.9, "current")} RMS over`);
    // Nothing to add where it is over within 10 ms, where no window tells, and of several surges.
    expect(outcome({ crowbar: { ...once, totalI2t: 100 } }).notes).toEqual([]);
    expect(outcome({ crowbar: { ...once, worstWindows: [] } }).notes).toEqual([]);
    expect(outcome({ crowbar: { ...once, firings: [0.02, 0.1] } }).notes).toEqual([]);
  });
});
