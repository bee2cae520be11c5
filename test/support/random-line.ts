import { Draws } from "../../packages/sim/bench/draws.ts";
import type {
  Clamp,
  Crowbar,
  CurrentLimit,
  Fuse,
  Lead,
  Load,
  Scenario,
  Source,
  SupplyFault,
} from "../../packages/sim/src/scenario/types.ts";
import * as parts from "./line.ts";

/** The line of a seed. */
export function randomLine(seed: number): Scenario {
  return drawnLine(new Draws(seed), `seed ${seed}`);
}

/** A valid line of any devices, options and topology with a fault of any kind, 3 ms to 1.5 s long; the draws are all invented. */
export function drawnLine(d: Draws, title: string): Scenario {
  const endTime = d.decades(3e-3, 1.5);
  const faultTime = d.chance(0.1) ? 0 : d.between(0, 0.4) * endTime;
  const start = d.chance(0.2) ? "dead" : "operating";
  const hasSwitch = d.chance(0.35);
  const sources: Source[] = [
    supply(d, "s1", endTime),
    ...d.one<() => Source[]>(
      () => [supply(d, "s2", endTime)],
      () => [battery(d, endTime)],
      () => [panel(d, endTime)],
      () => [],
      () => [],
      () => [],
    )(),
  ];
  const node = (smallest: number) => ({ capacitance: d.decades(smallest, 1e-5), resistance: d.decades(5e-3, 1) });
  return parts.line({
    title,
    ambient: d.one(25, -20, 60),
    faultTime,
    endTime,
    start,
    sources,
    loads: Array.from({ length: d.one(1, 1, 2, 3) }, (_, k) => load(d, `l${k}`, endTime)),
    mainFuse: d.maybe(0.5, () => fuse(d, d.between(20, 60))),
    crowbar: d.maybe(0.6, () =>
      crowbar(d, d.between(14.6, 17), hasSwitch ? d.one("plain", "held", "latched") : d.one("plain", "held")),
    ),
    clamp: d.maybe(0.25, () => clamp(d)),
    seriesSwitch: hasSwitch ? seriesSwitch(d) : null,
    nodes: { supplySide: node(1e-9), protectedSide: node(1e-8), radioSide: node(1e-9) },
  });
}

function fuse(d: Draws, minimumMeltingCurrent: number): Fuse {
  const stages = d.one<() => Fuse["stages"]>(
    () => [{ weight: 1, timeConstant: d.decades(1e-3, 1) }],
    () => [
      { weight: 0.6, timeConstant: d.decades(1e-3, 0.05) },
      { weight: 0.4, timeConstant: d.decades(0.05, 5) },
    ],
    () => [
      { weight: 0.3, timeConstant: 2e-3 },
      { weight: 0.3, timeConstant: 0.03 },
      { weight: 0.4, timeConstant: 1 },
    ],
  )();
  return parts.fuse({
    minimumMeltingCurrent,
    coldResistance: d.decades(1e-3, 2e-2),
    resistanceRatio: d.one(1, 1.3, 1.6, 2),
    stages,
    arcVoltage: d.between(8, 35),
    extinctionTime: d.decades(1e-7, 1e-4),
    start: d.one("warm", "cold"),
    meltingTemperature: d.one(null, 150),
  });
}

function lead(d: Draws, meltingCurrent: number, endTime: number): Lead {
  return parts.lead({
    inductance: d.decades(1e-9, 1e-5),
    resistance: d.decades(1e-3, 0.05),
    copperArea: d.decades(5e-7, 2e-5),
    fuse: d.maybe(0.3, () => fuse(d, meltingCurrent)),
    contact: d.maybe(0.15, () => ({
      resistance: d.decades(1e-4, 1e-2),
      arcVoltage: d.between(5, 25),
      extinctionCurrent: d.decades(0.05, 0.5),
      initially: d.chance(0.9) ? "closed" : "open",
      operations: d.times(d.one(1, 2, 3), endTime).map((time) => ({ time, action: d.one("open", "close") })),
    })),
  });
}

function crowbar(d: Draws, tripVoltage: number, variant: Crowbar["variant"]): Crowbar {
  return parts.crowbar({
    variant,
    tripVoltage,
    senseTimeConstant: d.decades(1e-6, 3e-4),
    gateDelay: d.decades(2e-7, 2e-5),
    slopeResistance: d.decades(2e-3, 0.05),
    stubResistance: d.chance(0.2) ? d.decades(1e-3, 0.2) : 0,
    inductance: d.decades(5e-9, 5e-6),
    holdingCurrent: d.decades(0.01, 0.2),
    latchingCurrent: d.chance(0.3) ? d.decades(0.05, 5) : 0,
    turnOffTime: d.decades(1e-5, 2e-4),
    failTemperature: d.one(250, 250, 60),
    caseToAmbient: d.decades(1, 60),
    caseHeatCapacity: d.decades(1, 100),
  });
}

function clamp(d: Draws): Clamp {
  return parts.clamp({
    breakdownVoltage: d.between(14.5, 18),
    slopeResistance: d.decades(0.005, 0.2),
    failsShort: d.chance(0.7),
    ratings: { energy: d.decades(0.01, 100), peakCurrent: 70, temperature: 150 },
  });
}

function limit(d: Draws): CurrentLimit {
  const current = d.between(15, 60);
  const detectionTime = d.decades(1e-4, 1e-2);
  return d.one<() => CurrentLimit>(
    () => ({ style: "none" }),
    () => ({ style: "constant current", current }),
    () => ({ style: "foldback", current, shortCircuitCurrent: d.between(0.05, 0.6) * current }),
    () => ({
      style: "hiccup",
      current,
      detectionTime,
      offTime: d.decades(1e-3, 0.2),
      rampTime: d.chance(0.3) ? 0 : d.decades(1e-4, 0.03),
    }),
    () => ({ style: "latch off", current, detectionTime }),
  )();
}

function diode(d: Draws) {
  return { forwardVoltage: d.between(0.2, 0.7), resistance: d.decades(1e-3, 0.02) };
}

function supply(d: Draws, name: string, endTime: number): Source {
  const reservoir = d.maybe(0.5, () => ({
    rawVoltage: d.between(18, 26),
    rawResistance: d.decades(0.05, 0.25),
    capacitance: d.decades(0.01, 0.08),
    dropOutResistance: d.decades(5e-3, 0.1),
    ripple: d.chance(0.3),
    mainsFrequency: d.one(50, 60),
  }));
  const slew = d.decades(10, 1e5);
  const fault = d.one<() => SupplyFault>(
    () => ({ kind: "none" }),
    () => ({ kind: "voltage turned up", endVoltage: d.between(10, 24), slew }),
    () => ({ kind: "lost feedback", ceilingVoltage: d.between(15, 30), slew }),
    () =>
      reservoir
        ? { kind: "shorted pass transistor", passResistance: d.decades(0.01, 0.3) }
        : { kind: "lost feedback", ceilingVoltage: d.between(15, 30), slew },
  )();
  return parts.supply({
    name,
    lead: lead(d, d.between(25, 60), endTime),
    diode: d.maybe(0.2, () => diode(d)),
    setVoltage: d.between(12.5, 14),
    sourceResistance: d.decades(2e-3, 0.05),
    responseTime: d.decades(2e-6, 3e-4),
    outputCapacitance: d.decades(1e-4, 0.02),
    esr: d.decades(1e-3, 0.05),
    limit: limit(d),
    reservoir,
    shutdown: d.maybe(0.3, () => ({
      voltage: d.between(15, 19),
      delay: d.decades(1e-5, 5e-3),
      worksOnLostFeedback: d.chance(0.5),
    })),
    ownCrowbar: d.maybe(0.2, () => crowbar(d, d.between(15, 18), d.one("plain", "held"))),
    switchOn: { time: d.between(0, 0.3) * endTime, rampTime: d.chance(0.4) ? 0 : d.decades(1e-4, 0.03) },
    fault,
  });
}

function battery(d: Draws, endTime: number): Source {
  return parts.battery({
    name: "battery",
    lead: lead(d, d.between(25, 80), endTime),
    emf: d.between(12.3, 13.2),
    internalResistance: d.decades(3e-3, 0.05),
    capacityAh: d.decades(0.01, 100),
    emfTable: d.maybe(0.3, () => [
      { charge: 0, emf: 11.5 },
      { charge: 0.9, emf: 13 },
      { charge: 1, emf: 13.5 },
      { charge: 1.1, emf: 22 },
    ]),
  });
}

function panel(d: Draws, endTime: number): Source {
  return parts.panel({
    name: "panel",
    lead: lead(d, 20, endTime),
    shortCircuitCurrent: d.decades(1, 40),
    outputCapacitance: d.decades(1e-4, 5e-3),
    diode: d.maybe(0.3, () => diode(d)),
    fault: { kind: d.one("none", "shorted controller") },
  });
}

function seriesSwitch(d: Draws) {
  return parts.seriesSwitch({
    kind: d.one("transistor", "relay"),
    resistance: d.decades(1e-3, 0.03),
    sense: d.one("supply side", "protected side"),
    senseTimeConstant: d.decades(1e-6, 1e-3),
    offVoltage: d.between(14.8, 17),
    openingTime: d.decades(1e-6, 1e-2),
    arcVoltage: d.between(8, 40),
    extinctionTime: d.decades(1e-7, 1e-4),
    reclose: d.maybe(0.5, () => ({ onVoltage: d.between(13.5, 14.7), retryTime: d.decades(1e-4, 0.05) })),
  });
}

function load(d: Draws, name: string, endTime: number): Load {
  const dropOut = d.maybe(0.2, () => ({
    voltage: d.between(10, 11.5),
    delay: d.decades(1e-5, 5e-3),
    sleepCurrent: d.decades(0.01, 0.5),
    returnVoltage: d.between(11.6, 12.4),
    returnDelay: d.decades(1e-4, 2e-2),
    comesBack: d.one("by itself" as const, "by hand" as const),
  }));
  const changes = d.chance(0.25) ? d.times(2, endTime) : [];
  const schedule = (a: number, b: number) => changes.map((time) => ({ time, value: d.decades(a, b) }));
  const base = {
    name,
    lead: lead(d, d.between(12, 40), endTime),
    inputCapacitance: d.decades(1e-6, 5e-3),
    esr: d.decades(2e-3, 0.1),
    clamp: d.maybe(0.2, () => clamp(d)),
  };
  return d.one<() => Load>(
    () => parts.resistor(d.decades(1, 20), { ...base, dropOut, schedule: schedule(1, 20) }),
    () => parts.resistor(d.decades(1, 20), { ...base, inputCapacitance: 0, schedule: schedule(1, 20) }),
    () => parts.currentLoad(d.decades(0.3, 8), { ...base, dropOut, schedule: schedule(0.3, 8) }),
    () =>
      parts.powerLoad(d.decades(5, 120), {
        ...base,
        inputCapacitance: d.decades(3e-4, 5e-3),
        dropOut,
        schedule: schedule(5, 120),
      }),
    () => parts.lampLoad(d.decades(10, 60), { ...base, inputCapacitance: d.chance(0.6) ? 0 : base.inputCapacitance }),
  )();
}
