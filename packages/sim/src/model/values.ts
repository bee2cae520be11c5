import { meltingCurrentAt } from "../scenario/melting-current.ts";
import type { Clamp, Crowbar, CurrentLimit, Fuse, Lead, Load, Supply } from "../scenario/types.ts";

export function fuseValues(fuse: Fuse, ambient: number) {
  return { ...fuse, minimumMeltingCurrent: meltingCurrentAt(fuse, ambient) };
}

export function leadValues(lead: Lead, diode: { forwardVoltage: number; resistance: number } | null, ambient: number) {
  return { ...lead, diode, fuse: lead.fuse ? fuseValues(lead.fuse, ambient) : null };
}

/** The junction's ladder ends with the stage from case to ambient. */
export function scrValues(crowbar: Crowbar) {
  return {
    ...crowbar,
    gateKeptOn: crowbar.variant === "held",
    thermalStages: [
      ...crowbar.junctionStages,
      { resistance: crowbar.caseToAmbient, timeConstant: crowbar.caseToAmbient * crowbar.caseHeatCapacity },
    ],
  };
}

export function clampValues(clamp: Clamp) {
  return { ...clamp, failureEnergy: clamp.failsShort ? clamp.ratings.energy : null };
}

export function loadValues(load: Exclude<Load, { kind: "lamp" }>) {
  const value =
    load.kind === "resistive" ? load.resistance : load.kind === "constant current" ? load.current : load.power;
  const dropOut = load.dropOut ? { ...load.dropOut, comesBack: load.dropOut.comesBack === "by itself" } : null;
  return {
    kind: load.kind,
    value,
    kneeVoltage: load.kind === "resistive" ? 0 : load.kneeVoltage,
    schedule: load.schedule,
    dropOut,
  };
}

export function regulatorValues(supply: Supply, dead: boolean) {
  return {
    ...supply,
    limit: limitValues(supply.limit),
    dropOutResistance: supply.reservoir?.dropOutResistance ?? 1,
    fault: faultValues(supply),
    switchOn: dead ? supply.switchOn : null,
  };
}

function limitValues(limit: CurrentLimit) {
  const forever = { detectionTime: null, offTime: null, rampTime: 0 };
  switch (limit.style) {
    case "none":
      return { ...forever, current: null, shortCircuitCurrent: 0 };
    case "constant current":
      return { ...forever, current: limit.current, shortCircuitCurrent: limit.current };
    case "foldback":
      return { ...forever, current: limit.current, shortCircuitCurrent: limit.shortCircuitCurrent };
    case "hiccup":
      return { ...limit, shortCircuitCurrent: limit.current };
    case "latch off":
      return {
        ...forever,
        current: limit.current,
        shortCircuitCurrent: limit.current,
        detectionTime: limit.detectionTime,
      };
  }
}

function faultValues({ fault }: Supply) {
  switch (fault.kind) {
    case "none":
      return { kind: "none" } as const;
    case "voltage turned up":
      return { kind: "moves", endVoltage: fault.endVoltage, slew: fault.slew, feedbackLost: false } as const;
    case "lost feedback":
      return { kind: "moves", endVoltage: fault.ceilingVoltage, slew: fault.slew, feedbackLost: true } as const;
    case "shorted pass transistor":
      return { kind: "shorted", passResistance: fault.passResistance } as const;
  }
}
