import type {
  ClampFindings,
  CrowbarFindings,
  FuseFindings,
  LeadFindings,
  LoadFindings,
  Run,
  RunEvent,
  SourceFindings,
  SwitchFindings,
} from "../../packages/sim/src/model/result.ts";
import type { Scenario } from "../../packages/sim/src/scenario/types.ts";
import { type JudgeContext, judge } from "../../packages/sim/src/verdict/judge.ts";
import type { Finding, Judged } from "../../packages/sim/src/verdict/types.ts";
import { crowbar, fuse, radio, supply } from "./parts.ts";

/** Hand-made runs: the numbers are chosen for the tests, no engine made them. */
const nothing = { value: 0, time: 0 };

export function loadFound(over: Partial<LoadFindings> = {}): LoadFindings {
  return {
    name: "radio",
    peak: { value: 15.1, time: 0.00104 },
    aboveMaximum: { level: 15.9, total: 0, longest: 0, area: 0 },
    belowMinimum: { level: 11.7, total: 0, longest: 0, area: 0 },
    withstand: [],
    peakPerCycle: [],
    drops: 0,
    sleepingAtEnd: false,
    ...over,
  };
}

export function sourceFound(over: Partial<SourceFindings> = {}): SourceFindings {
  return {
    name: "supply",
    peak: { value: 23.9, time: 0.06 },
    peakCurrent: { value: 150, time: 0.002 },
    mostGiven: 150,
    mostTaken: 0,
    charge: null,
    rings: false,
    stateAtEnd: "running",
    limiterTrips: [],
    shutdowns: [],
    restarts: [],
    movement: null,
    ...over,
  };
}

export function fuseFound(over: Partial<FuseFindings> = {}): FuseFindings {
  return {
    label: "blade fuse 25 A",
    subject: { part: "main fuse", owner: "" },
    state: "intact",
    overloadTime: null,
    meltTime: null,
    openTime: null,
    meltingI2t: null,
    letThroughI2t: null,
    totalI2t: 300,
    peakTheta: 0.3,
    meltsAfter: null,
    peakCurrent: 150,
    peakVoltage: null,
    openVoltage: null,
    ...over,
  };
}

export const blown: Partial<FuseFindings> = {
  state: "open",
  overloadTime: 0.00103,
  meltTime: 0.065,
  openTime: 0.0650055,
  meltingI2t: 971,
  letThroughI2t: 973,
  totalI2t: 975,
  peakTheta: 1,
  peakVoltage: 35.5,
};

export function leadFound(over: Partial<LeadFindings> = {}): LeadFindings {
  const overcurrent = { level: 40, total: 0.1, longest: 0.1, area: 5 };
  return {
    owner: "supply",
    i2t: 975,
    overcurrentI2t: over.i2t ?? 975,
    startRise: 0,
    peakRise: 0.3,
    endRise: 0.3,
    peakCurrent: 150,
    overcurrent,
    ...over,
  };
}

export function barFound(over: Partial<CrowbarFindings> = {}): CrowbarFindings {
  return {
    firings: [0.001034],
    stops: [0.06526],
    conductingAtEnd: false,
    failedShort: false,
    peakCurrent: { value: 330, time: 0.00108 },
    peakRise: { value: 280e6, time: 0.001034 },
    firstMicrosecondRise: 60e6,
    worstWindows: [
      { duration: 0.001, i2t: 60, rms: 245 },
      { duration: 0.01, i2t: 220, rms: 148 },
      { duration: 0.1, i2t: 960, rms: 98 },
      { duration: 1, i2t: 960, rms: 31 },
    ],
    worst10msI2t: 220,
    totalI2t: 960,
    junctionEnergy: 12.7,
    peakTemperature: { value: 104.6, time: 0.065 },
    junctionLimitTime: null,
    endTemperature: 28.7,
    peakSense: { value: 15.3, time: 0.00104 },
    cycling: null,
    ...over,
  };
}

/** A crowbar that had nothing to do. */
export const idle: Partial<CrowbarFindings> = {
  firings: [],
  stops: [],
  peakCurrent: nothing,
  peakRise: nothing,
  firstMicrosecondRise: 0,
  worstWindows: [],
  worst10msI2t: 0,
  totalI2t: 0,
  junctionEnergy: 0,
  peakTemperature: { value: 25, time: 0 },
  endTemperature: 25,
  peakSense: { value: 13.7, time: 0 },
};

export function clampFound(over: Partial<ClampFindings> = {}): ClampFindings {
  return {
    peakCurrent: { value: 20, time: 0.002 },
    energy: 0.5,
    peakRise: 60,
    endRise: 1,
    failedShort: false,
    failTime: null,
    atFailure: null,
    ...over,
  };
}

export function switchFound(over: Partial<SwitchFindings> = {}): SwitchFindings {
  return {
    state: "open",
    starts: [0.0011],
    opens: [0.0065],
    recloses: [],
    peakCurrent: 35,
    peakVoltage: 15.2,
    openVoltage: null,
    overload: null,
    peakSense: { value: 18, time: 0.002 },
    cycling: null,
    ...over,
  };
}

export function event(
  time: number,
  sincePrevious: number,
  kind: RunEvent["kind"],
  part: RunEvent["subject"]["part"],
  cause = "",
  owner = "",
): RunEvent {
  return { time, sincePrevious, kind, subject: { part, owner }, cause };
}

export function trace(time: readonly number[], columns: Readonly<Record<string, readonly number[]>>): Run["trace"] {
  return {
    time: Float64Array.from(time),
    columns: Object.entries(columns).map(([name, values]) => ({
      name,
      unit: name.split("_").at(-1) ?? "",
      values: Float64Array.from(values),
    })),
  };
}

/** A shorted pass transistor behind a main fuse, stopped by the crowbar, radio unharmed; `scenario` overrides its fields. */
export function run(over: Partial<Run> = {}, scenario: Partial<Scenario> = {}): Run {
  const whole: Scenario = {
    title: "Mountain hut relay: shorted pass transistor",
    ambient: 25,
    faultTime: 0.001,
    endTime: 0.3,
    start: "operating",
    nodes: {
      supplySide: { capacitance: 1e-7, resistance: 1 },
      protectedSide: { capacitance: 1e-6, resistance: 0.2 },
      radioSide: { capacitance: 1e-7, resistance: 1 },
    },
    sources: [supply],
    loads: [radio],
    mainFuse: fuse,
    crowbar,
    clamp: null,
    seriesSwitch: null,
    ...scenario,
  };
  const recorded = over.trace ?? trace([0, whole.endTime], { radio_V: [13.5, 13.5] });
  return {
    scenario: whole,
    outcome: { status: "finished", time: whole.endTime, failure: null },
    events: [event(0.001, 0.001, "fault", "line", "shorted pass transistor of the supply")],
    trace: recorded,
    energy: {
      fed: 32.7,
      dissipated: 31.9,
      storedChange: 0.8,
      residual: 1e-9,
      relative: 3e-11,
      turnedOver: 100,
      byDevice: {},
    },
    loads: [loadFound()],
    sources: [sourceFound()],
    fuses: whole.mainFuse === null ? [] : [fuseFound()],
    leads: [leadFound(), leadFound({ owner: "radio", i2t: 120, peakRise: 0.1, peakCurrent: 20 })],
    crowbar: whole.crowbar === null ? null : barFound(),
    ownCrowbars: [],
    clamp: null,
    loadClamps: [],
    seriesSwitch: null,
    ripple: null,
    atEnd: Object.fromEntries(recorded.columns.map(({ name, values }) => [name, values.at(-1) ?? Number.NaN])),
    operatingPoint: {},
    samples: [],
    repetition: { leaps: [], refusal: null },
    work: { steps: 1, rejected: 0, evaluations: 1, jacobians: 1, factorizations: 1, events: 1, quietChanges: 0 },
    ...over,
  };
}

export const context: JudgeContext = { warnings: [], origins: [], prospective: null };

/** The verdict on a run that has to carry one. */
export function judged(made: Run, over: Partial<JudgeContext> = {}): Judged {
  const verdict = judge(made, { ...context, ...over });
  if (verdict.kind !== "verdict") throw new Error(`no verdict: ${verdict.headline}`);
  return verdict;
}

/** The one finding of a part's quantity. */
export function finding(verdict: Judged, subject: string, quantity: string): Finding {
  const all = [...verdict.findings, ...verdict.loads.flatMap(({ limits }) => limits)];
  const fitting = all.filter((each) => each.subject === subject && each.quantity === quantity);
  const [only] = fitting;
  if (only === undefined || fitting.length > 1)
    throw new Error(
      `${fitting.length} findings of ${subject}: ${quantity}, of ${all.map((each) => `${each.subject}: ${each.quantity}`).join("; ")}`,
    );
  return only;
}
