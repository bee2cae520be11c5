import type {
  Battery,
  Clamp,
  Crowbar,
  Fuse,
  Lead,
  Load,
  SeriesSwitch,
  Supply,
} from "../../packages/sim/src/scenario/types.ts";

/** Parts of hand-made runs: their numbers are chosen for the tests. */
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
