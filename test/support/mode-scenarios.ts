import type { Scenario } from "../../packages/sim/src/scenario/types.ts";
import {
  battery,
  clamp,
  crowbar,
  currentLoad,
  fuse,
  lampLoad,
  lead,
  line,
  panel,
  powerLoad,
  reservoir,
  resistor,
  seriesSwitch,
  supply,
} from "./line.ts";

const raised = (endVoltage: number, slew: number) => ({ kind: "voltage turned up", endVoltage, slew }) as const;
const contact = { resistance: 1e-3, arcVoltage: 15, extinctionCurrent: 0.1, initially: "closed" } as const;
const sleeper = {
  voltage: 11,
  delay: 2e-4,
  sleepCurrent: 0.2,
  returnVoltage: 12,
  returnDelay: 1e-3,
  comesBack: "by itself",
} as const;
/** A fuse that a crowbar's current melts within milliseconds. */
const quick = fuse({
  minimumMeltingCurrent: 20,
  stages: [
    { weight: 0.6, timeConstant: 4e-3 },
    { weight: 0.4, timeConstant: 0.03 },
  ],
});

/** Runs that together bring every device into every mode. */
export const modeScenarios: Readonly<Record<string, Scenario>> = {
  "shorted pass transistor, main fuse melts": line({
    endTime: 0.05,
    sources: [supply({ reservoir, fault: { kind: "shorted pass transistor", passResistance: 0.05 } })],
    mainFuse: quick,
    crowbar: crowbar({ stubResistance: 0.002 }),
    loads: [powerLoad(120), lampLoad(30, { name: "lamp", inputCapacitance: 0 })],
  }),
  "hiccup, repeated firing, loads asleep": line({
    endTime: 0.08,
    sources: [
      supply({
        limit: { style: "hiccup", current: 40, detectionTime: 2e-3, offTime: 12e-3, rampTime: 10e-3 },
        fault: raised(17, 4000),
      }),
    ],
    crowbar: crowbar(),
    loads: [
      resistor(4, { dropOut: sleeper }),
      currentLoad(3, { name: "b", dropOut: sleeper }),
      powerLoad(30, { name: "c", dropOut: sleeper }),
      lampLoad(20, { name: "lamp" }),
    ],
  }),
  "foldback holds the crowbar": line({
    endTime: 0.02,
    sources: [supply({ limit: { style: "foldback", current: 25, shortCircuitCurrent: 6 }, fault: raised(17, 4000) })],
    crowbar: crowbar({ latchingCurrent: 0.2 }),
    loads: [currentLoad(10), resistor(3, { name: "b", inputCapacitance: 0 })],
  }),
  "ripple and drop-out": line({
    endTime: 0.05,
    sources: [
      supply({
        reservoir: { ...reservoir, ripple: true, rawVoltage: 21, rawResistance: 0.06, capacitance: 0.03 },
        fault: raised(20, 4000),
      }),
    ],
    loads: [currentLoad(15)],
  }),
  "own crowbar": line({
    endTime: 0.01,
    sources: [supply({ ownCrowbar: crowbar({ tripVoltage: 16 }), fault: raised(20, 5000) })],
  }),
  "clamps fail short": line({
    endTime: 0.02,
    sources: [supply({ limit: { style: "latch off", current: 25, detectionTime: 4e-3 }, fault: raised(20, 5000) })],
    clamp: clamp({ ratings: { energy: 0.02, peakCurrent: 70, temperature: 150 } }),
    loads: [powerLoad(100, { clamp: clamp({ breakdownVoltage: 15.5, failsShort: false }) })],
  }),
  "a load's clamp fails short": line({
    endTime: 0.02,
    sources: [supply({ fault: raised(20, 5000) })],
    loads: [
      powerLoad(100, {
        clamp: clamp({ breakdownVoltage: 15.5, ratings: { energy: 0.02, peakCurrent: 70, temperature: 150 } }),
      }),
    ],
  }),
  "switch opens and recloses": line({
    endTime: 0.02,
    sources: [
      supply({ limit: { style: "latch off", current: 25, detectionTime: 2e-3 }, fault: raised(16.5, 4000) }),
      battery({
        emf: 13.8,
        internalResistance: 0.2,
        lead: lead({
          contact: {
            ...contact,
            operations: [
              { time: 3e-3, action: "open" },
              { time: 8e-3, action: "close" },
            ],
          },
        }),
      }),
    ],
    mainFuse: fuse(),
    seriesSwitch: seriesSwitch({
      kind: "relay",
      openingTime: 5e-4,
      arcVoltage: 5,
      reclose: { onVoltage: 14.5, retryTime: 1e-3 },
    }),
    loads: [powerLoad(60)],
  }),
  "panel and battery with its table, diodes": line({
    endTime: 40,
    sources: [
      panel({ shortCircuitCurrent: 40, diode: { forwardVoltage: 0.4, resistance: 0.01 } }),
      battery({
        capacityAh: 0.05,
        emf: 12.95,
        emfTable: [
          { charge: 0, emf: 11.5 },
          { charge: 0.9, emf: 13 },
          { charge: 1, emf: 13.5 },
          { charge: 1.1, emf: 22 },
        ],
      }),
      supply({ diode: { forwardVoltage: 0.4, resistance: 0.01 } }),
    ],
    loads: [currentLoad(6), resistor(50, { name: "b" })],
  }),
  "lead fuse clears, crowbar from a battery": line({
    endTime: 0.1,
    sources: [
      battery({ emf: 13.8, lead: lead({ fuse: quick }) }),
      supply({ limit: { style: "none" }, fault: raised(17, 4000) }),
    ],
    crowbar: crowbar({ variant: "held", failTemperature: 45 }),
  }),
  "a main fuse whose arc is blocked": line({
    endTime: 0.03,
    sources: [supply({ reservoir, fault: { kind: "shorted pass transistor", passResistance: 0.02 } })],
    mainFuse: { ...quick, arcVoltage: 30, extinctionTime: 3e-3 },
    crowbar: crowbar(),
    loads: [resistor(2, { lead: lead({ fuse: fuse() }) })],
  }),
  "a gate kept on through restarts": line({
    endTime: 0.04,
    sources: [
      supply({
        limit: { style: "hiccup", current: 20, detectionTime: 1e-3, offTime: 5e-3, rampTime: 4e-3 },
        fault: raised(17, 4000),
      }),
    ],
    crowbar: crowbar({ variant: "held", stubResistance: 0.003 }),
    loads: [resistor(6)],
  }),
  "start from dead": line({
    start: "dead",
    endTime: 0.06,
    sources: [supply({ reservoir, switchOn: { time: 0.01, rampTime: 0.02 } })],
    loads: [currentLoad(5), powerLoad(50, { name: "c" }), lampLoad(20, { name: "lamp" })],
  }),
  "a panel driven above its open circuit": line({
    endTime: 0.01,
    sources: [panel({ openCircuitVoltage: 14.6, kneeVoltage: 14.6 / 16 }), supply({ fault: raised(17, 4000) })],
  }),
};
