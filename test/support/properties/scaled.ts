import type { Load, Scenario } from "../../../packages/sim/src/scenario/types.ts";

/**
 * With which power of a each value goes when every impedance becomes a times as large and every current 1/a: voltages, times and temperatures stay.
 * Powers, energies, capacitances and copper areas go with the current; thermal resistances like electrical ones, for the power falls.
 */
const POWERS: Readonly<Record<string, 1 | -1>> = {
  ...of(1, "resistance", "inductance", "esr", "stubResistance", "slopeResistance", "leakResistance", "shortResistance"),
  ...of(1, "sourceResistance", "bleederResistance", "rawResistance", "dropOutResistance", "passResistance"),
  ...of(1, "internalResistance", "coldResistance", "thermalResistance", "caseToAmbient"),
  ...of(-1, "capacitance", "outputCapacitance", "inputCapacitance", "capacityAh", "copperArea"),
  ...of(-1, "current", "shortCircuitCurrent", "extinctionCurrent", "minimumMeltingCurrent", "ratedCurrent"),
  ...of(-1, "holdingCurrent", "latchingCurrent", "sleepCurrent", "peakCurrent", "surgeCurrent", "currentRise", "rms"),
  ...of(-1, "power", "nominalPower", "energy", "caseHeatCapacity", "heatCapacity", "breakingCapacity"),
};

function of(power: 1 | -1, ...keys: readonly string[]): Record<string, 1 | -1> {
  return Object.fromEntries(keys.map((key) => [key, power]));
}

/** The same part with all its impedances a times as large and all its currents 1/a. */
export function scaled<T>(part: T, a: number): T {
  if (Array.isArray(part)) return part.map((each) => scaled(each, a)) as T;
  if (typeof part !== "object" || part === null) return part;
  const entries = Object.entries(part).map(([key, value]) => {
    if (key === "schedule") return [key, scaledSchedule(part as unknown as Load, a)];
    const power = POWERS[key];
    if (typeof value !== "number" || power === undefined) return [key, scaled(value, a)];
    return [key, power === 1 ? value * a : value / a];
  });
  return Object.fromEntries(entries) as T;
}

/** Resistances, or currents and powers. */
function scaledSchedule({ kind, schedule }: Load, a: number): Load["schedule"] {
  return schedule.map(({ time, value }) => ({ time, value: kind === "resistive" ? value * a : value / a }));
}

/** Each load as so many of the same in parallel, which together are the one. */
export function split(scenario: Scenario, count: number): Scenario {
  const loads = scenario.loads.flatMap((load) =>
    Array.from({ length: count }, (_, k) => ({ ...scaled(load, count), name: `${load.name}${partMark}${k}` })),
  );
  return { ...scenario, loads };
}

/** Stands between the name of a load and the number of the part of it. */
const partMark = " part ";

/** Whose part a load is, by its name; the name itself where it is none. */
export const wholeOf = (name: string): string => name.split(partMark)[0];

/** Everything that happens to a line `delay` later. */
export function later(scenario: Scenario, delay: number): Scenario {
  const shifted = <T extends { readonly time: number }>(list: readonly T[]): T[] =>
    list.map((each) => ({ ...each, time: each.time + delay }));
  const branch = <T extends Scenario["sources"][number] | Load>(part: T): T => {
    const { contact } = part.lead;
    if (contact === null) return part;
    return { ...part, lead: { ...part.lead, contact: { ...contact, operations: shifted(contact.operations) } } };
  };
  return {
    ...scenario,
    faultTime: scenario.faultTime + delay,
    endTime: scenario.endTime + delay,
    sources: scenario.sources.map(branch),
    loads: scenario.loads.map((load) => branch({ ...load, schedule: shifted(load.schedule) })),
  };
}

/** The same line at rest before its fault: nothing in it that moves by itself (mains, batteries, a cold fuse, a start from dead). */
export function resting(scenario: Scenario): Scenario {
  const warm = <T>(part: T): T =>
    (Array.isArray(part)
      ? part.map(warm)
      : typeof part === "object" && part !== null
        ? Object.fromEntries(
            Object.entries(part).map(([key, value]) => [
              key,
              key === "start" ? "warm" : key === "ripple" ? false : warm(value),
            ]),
          )
        : part) as T;
  return {
    ...warm(scenario),
    start: "operating",
    sources: warm(scenario.sources).filter(({ kind }) => kind !== "battery"),
  };
}
