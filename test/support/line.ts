import type {
  Battery,
  Clamp,
  Crowbar,
  Fuse,
  Lead,
  Load,
  Panel,
  Scenario,
  SeriesSwitch,
  Supply,
} from "../../packages/sim/src/scenario/types.ts";

/** Complete parts with plain values; a test writes only what it is about. Numbers are chosen for the tests. */
export function lead(over: Partial<Lead> = {}): Lead {
  return {
    inductance: 1e-6,
    resistance: 0.01,
    copperArea: 4e-6,
    thermalTimeConstant: 60,
    insulation: { continuous: 70, shortCircuit: 160 },
    fuse: null,
    contact: null,
    ...over,
  };
}

export function supply(over: Partial<Supply> = {}): Supply {
  return {
    kind: "supply",
    name: "supply",
    lead: lead(),
    diode: null,
    setVoltage: 13.8,
    sourceResistance: 0.01,
    responseTime: 2e-5,
    outputCapacitance: 0.0047,
    esr: 0.02,
    bleederResistance: 1000,
    limit: { style: "constant current", current: 25 },
    reservoir: null,
    shutdown: null,
    ownCrowbar: null,
    switchOn: { time: 0, rampTime: 0 },
    fault: { kind: "none" },
    ...over,
  };
}

export const reservoir = {
  rawVoltage: 22,
  rawResistance: 0.22,
  capacitance: 0.047,
  dropOutResistance: 0.02,
  ripple: false,
  mainsFrequency: 60,
};

export function battery(over: Partial<Battery> = {}): Battery {
  return {
    kind: "battery",
    name: "battery",
    lead: lead(),
    diode: null,
    emf: 12.8,
    internalResistance: 0.005,
    capacityAh: 100,
    initialCharge: 0.9,
    emfPerCharge: 1,
    emfTable: null,
    ...over,
  };
}

export function panel(over: Partial<Panel> = {}): Panel {
  return {
    kind: "panel",
    name: "panel",
    lead: lead(),
    diode: null,
    shortCircuitCurrent: 6,
    openCircuitVoltage: 21.5,
    kneeVoltage: 21.5 / 16,
    outputCapacitance: 1e-3,
    esr: 0.05,
    fault: { kind: "shorted controller" },
    ...over,
  };
}

const loadBase = {
  name: "radio",
  lead: lead(),
  inputCapacitance: 1e-3,
  esr: 0.03,
  limits: { minimum: 11.7, maximum: 15.9, withstand: [], withstandAssumed: false },
  schedule: [],
  clamp: null,
  dropOut: null,
};
type Base = Partial<typeof loadBase> | Partial<Pick<Load, keyof typeof loadBase>>;

export function resistor(resistance: number, over: Base = {}): Load {
  return { ...loadBase, ...over, kind: "resistive", resistance };
}
export function currentLoad(current: number, over: Base = {}): Load {
  return { ...loadBase, ...over, kind: "constant current", current, kneeVoltage: 8.28 };
}
export function powerLoad(power: number, over: Base = {}): Load {
  return { ...loadBase, ...over, kind: "constant power", power, kneeVoltage: 8.28 };
}
export function lampLoad(nominalPower: number, over: Base = {}): Load {
  return {
    ...loadBase,
    ...over,
    kind: "lamp",
    nominalPower,
    nominalVoltage: 12,
    nominalTemperature: 2800,
    coldTemperature: 300,
    exponent: 1.2,
    heatCapacity: 2e-4 * nominalPower,
  };
}

export function fuse(over: Partial<Fuse> = {}): Fuse {
  return {
    label: "fuse",
    ratedCurrent: 25,
    ratedVoltage: 32,
    breakingCapacity: 1000,
    nominalMeltingI2t: null,
    coldResistance: 0.0025,
    resistanceRatio: 1.6,
    minimumMeltingCurrent: 30,
    stages: [{ weight: 1, timeConstant: 0.9 }],
    arcVoltage: 35,
    extinctionCurrent: 0.1,
    extinctionTime: 1e-6,
    meltingTemperature: null,
    start: "warm",
    ...over,
  };
}

export function crowbar(over: Partial<Crowbar> = {}): Crowbar {
  return {
    label: "SCR",
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
    ...over,
  };
}

export function clamp(over: Partial<Clamp> = {}): Clamp {
  return {
    label: "clamp",
    breakdownVoltage: 16,
    slopeResistance: 0.05,
    thermalResistance: 1,
    thermalTimeConstant: 0.01,
    failsShort: true,
    shortResistance: 0.005,
    ratings: { energy: 1e3, peakCurrent: 70, temperature: 150 },
    ...over,
  };
}

export function seriesSwitch(over: Partial<SeriesSwitch> = {}): SeriesSwitch {
  return {
    label: "switch",
    kind: "transistor",
    resistance: 0.004,
    sense: "supply side",
    senseTimeConstant: 1e-5,
    offVoltage: 15.5,
    openingTime: 5e-6,
    arcVoltage: 40,
    extinctionCurrent: 0.1,
    extinctionTime: 1e-6,
    reclose: null,
    ratings: { current: 40, voltage: 40 },
    ...over,
  };
}

export function line(over: Partial<Scenario> = {}): Scenario {
  return {
    title: "test line",
    ambient: 25,
    faultTime: 1e-3,
    endTime: 0.01,
    start: "operating",
    nodes: {
      supplySide: { capacitance: 1e-7, resistance: 1 },
      protectedSide: { capacitance: 1e-6, resistance: 0.2 },
      radioSide: { capacitance: 1e-7, resistance: 1 },
    },
    sources: [supply()],
    loads: [resistor(2)],
    mainFuse: null,
    crowbar: null,
    clamp: null,
    seriesSwitch: null,
    ...over,
  };
}
