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
import type {
  Battery,
  Clamp,
  Crowbar,
  Fuse,
  Lead,
  Load,
  Scenario,
  SeriesSwitch,
  Supply,
} from "../../packages/sim/src/scenario/types.ts";
import { type JudgeContext, judge } from "../../packages/sim/src/verdict/judge.ts";
import type { Judged } from "../../packages/sim/src/verdict/types.ts";

/** Hand-made runs: the numbers are chosen for the tests, no engine made them. */
export const lead: Lead = {
  inductance: 1.2e-6,
  resistance: 0.017,
  copperArea: 4e-6,
  thermalTimeConstant: 60,
  insulation: { continuous: 70, shortCircuit: 160 },
  fuse: null,
  contact: null,
};

export const fuse: Fuse = {
  label: "blade fuse 25 A",
  ratedCurrent: 25,
  ratedVoltage: 32,
  breakingCapacity: 1000,
  nominalMeltingI2t: 1000,
  coldResistance: 0.0025,
  resistanceRatio: 1.6,
  minimumMeltingCurrent: 30,
  stages: [{ weight: 1, timeConstant: 0.9 }],
  arcVoltage: 35,
  extinctionCurrent: 0.1,
  extinctionTime: 1e-6,
  meltingTemperature: null,
  start: "warm",
};

export const crowbar: Crowbar = {
  label: "SCR 55 A",
  variant: "plain",
  tripVoltage: 15,
  senseTimeConstant: 1e-5,
  gateDelay: 2e-6,
  thresholdVoltage: 0.9,
  slopeResistance: 0.006,
  stubResistance: 0,
  inductance: 50e-9,
  inductanceAssumed: true,
  leakResistance: 1e6,
  holdingCurrent: 0.08,
  latchingCurrent: 0,
  turnOffTime: 60e-6,
  failTemperature: 250,
  junctionStages: [
    { resistance: 0.2, timeConstant: 0.001 },
    { resistance: 0.3, timeConstant: 0.1 },
  ],
  caseToAmbient: 5,
  caseHeatCapacity: 20,
  ratings: {
    surgeCurrent: 550,
    i2t: 1512.5,
    junctionTemperature: 125,
    currentRise: 175e6,
    surgeWindows: [
      { duration: 0.001, rms: 428 },
      { duration: 0.01, rms: 389 },
      { duration: 0.1, rms: 233 },
      { duration: 1, rms: 148 },
    ],
  },
};

export const clamp: Clamp = {
  label: "clamp 1500 W",
  breakdownVoltage: 16,
  slopeResistance: 0.1,
  thermalResistance: 1,
  thermalTimeConstant: 0.01,
  failsShort: true,
  shortResistance: 0.005,
  ratings: { energy: 2, peakCurrent: 70, temperature: 150 },
};

export const seriesSwitch: SeriesSwitch = {
  label: "relay 30 A",
  kind: "relay",
  resistance: 0.002,
  sense: "supply side",
  senseTimeConstant: 1e-5,
  offVoltage: 15,
  openingTime: 0.005,
  arcVoltage: 15,
  extinctionCurrent: 0.1,
  extinctionTime: 1e-5,
  reclose: null,
  ratings: { current: 40, voltage: 30 },
};

export const supply: Supply = {
  kind: "supply",
  name: "supply",
  lead,
  diode: null,
  setVoltage: 13.8,
  sourceResistance: 0.01,
  responseTime: 2e-5,
  outputCapacitance: 0.0047,
  esr: 0.02,
  bleederResistance: 1000,
  limit: { style: "constant current", current: 25 },
  reservoir: {
    rawVoltage: 24,
    rawResistance: 0.12,
    capacitance: 0.022,
    dropOutResistance: 0.02,
    ripple: false,
    mainsFrequency: 60,
  },
  shutdown: null,
  ownCrowbar: null,
  switchOn: { time: 0, rampTime: 0 },
  fault: { kind: "shorted pass transistor", passResistance: 0.05 },
};

export const battery: Battery = {
  kind: "battery",
  name: "battery",
  lead,
  diode: null,
  emf: 12.8,
  internalResistance: 0.005,
  capacityAh: 100,
  initialCharge: 0.9,
  emfPerCharge: 1,
  emfTable: null,
};

export const radio: Load = {
  kind: "constant current",
  name: "radio",
  current: 20,
  kneeVoltage: 8.3,
  lead: { ...lead, copperArea: 2.5e-6 },
  inputCapacitance: 0.001,
  esr: 0.03,
  limits: { minimum: 11.7, maximum: 15.9, withstand: [], withstandAssumed: false },
  schedule: [],
  clamp: null,
  dropOut: null,
};

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
    charge: null,
    rings: false,
    stateAtEnd: "running",
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
    peakCurrent: 150,
    peakVoltage: null,
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
  return { owner: "supply", i2t: 975, peakRise: 0.3, endRise: 0.3, peakCurrent: 150, ...over };
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
  return {
    scenario: whole,
    outcome: { status: "finished", time: whole.endTime, failure: null },
    events: [event(0.001, 0.001, "fault", "line", "shorted pass transistor of the supply")],
    trace: trace([0, whole.endTime], { radio_V: [13.5, 13.5] }),
    energy: { fed: 32.7, dissipated: 31.9, storedChange: 0.8, residual: 1e-9, relative: 3e-11, byDevice: {} },
    loads: [loadFound()],
    sources: [sourceFound()],
    fuses: whole.mainFuse === null ? [] : [fuseFound()],
    leads: [leadFound(), leadFound({ owner: "radio", i2t: 120, peakRise: 0.1, peakCurrent: 20 })],
    crowbar: whole.crowbar === null ? null : barFound(),
    ownCrowbars: [],
    clamp: null,
    loadClamps: [],
    seriesSwitch: null,
    operatingPoint: {},
    samples: [],
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
