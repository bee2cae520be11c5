import type { ScenarioText } from "../../../packages/sim/src/scenario/index.ts";
import type { Load, Scenario } from "../../../packages/sim/src/scenario/types.ts";

/** Keys of a file that are not just the words of the field's name. */
const KEYS: Readonly<Record<string, string>> = {
  faultTime: "fault at",
  endTime: "run for",
  shutdown: "own OVP",
  ownCrowbar: "own crowbar",
  worksOnLostFeedback: "works on lost feedback",
  copperArea: "area",
  capacityAh: "capacity",
  nominalMeltingI2t: "melting I2t",
  i2t: "I2t",
  senseTimeConstant: "sense filter",
  gateDelay: "turn on delay",
};

const WORDS: Readonly<Record<string, string>> = {
  held: "gate kept on until reset",
  latched: "crowbar with disconnect",
};

/** Said by what is written, not by a key of its own; nobody can write that what he writes is only assumed. */
const UNWRITTEN = new Set(["inductanceAssumed", "withstandAssumed"]);

/** The unit of a field, by its name; the first that fits. */
const UNITS: readonly (readonly [RegExp, string])[] = [
  [/^(weight|charge|initialCharge|resistanceRatio|exponent)$/, ""],
  [/^(nominalTemperature|coldTemperature)$/, "K"],
  [/temperature$|^ambient$|^continuous$|^shortCircuit$/i, "°C"],
  [/^(thermalResistance|caseToAmbient)$/, "K/W"],
  [/^(heatCapacity|caseHeatCapacity)$/, "J/K"],
  [/voltage$|^emf|^minimum$|^maximum$/i, "V"],
  [/^currentRise$/, "A/s"],
  [/current$|^rms$|^breakingCapacity$/i, "A"],
  [/resistance$|^esr$/i, "ohm"],
  [/inductance$/, "H"],
  [/capacitance$/i, "F"],
  [/^capacityAh$/, "Ah"],
  [/time$|timeConstant$|delay$|duration$/i, "s"],
  [/I2t$/i, "A2s"],
  [/power$/i, "W"],
  [/^energy$/, "J"],
  [/^slew$/, "V/s"],
  [/^copperArea$/, "m2"],
  [/frequency$/i, "Hz"],
];

/** A complete scenario as a user would write it: every value, none by default or part class, to its last digit. */
export function writtenLine(scenario: Scenario): ScenarioText {
  return writtenMap(scenario, scenario.start === "dead") as ScenarioText;
}

function writtenMap(part: object, isDead = true): Record<string, unknown> {
  const entries = Object.entries(part).flatMap(([key, value]) => {
    if (value === null || UNWRITTEN.has(key)) return [];
    if (key === "switchOn" && !isDead) return [];
    if (key === "schedule" && value.length === 0) return [];
    if (key === "schedule") return [[key, writtenSchedule(part as Load)]];
    if (key === "junctionStages") return [["junction stages", writtenStages(value)]];
    return [[KEYS[key] ?? inWords(key), written(key, value, isDead)]];
  });
  return Object.fromEntries(entries);
}

function written(key: string, value: unknown, isDead: boolean): unknown {
  if (typeof value === "number") return quantity(value, unitOf(key));
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (typeof value === "string") return WORDS[value] ?? value;
  if (key === "withstand" && (value as unknown[]).length === 0) return "strict";
  if (Array.isArray(value)) return value.map((each) => writtenMap(each, isDead));
  return writtenMap(value as object, isDead);
}

function writtenSchedule(load: Load): Record<string, string>[] {
  const key = load.kind === "resistive" ? "resistance" : load.kind === "constant current" ? "current" : "power";
  return load.schedule.map(({ time, value }) => ({ time: quantity(time, "s"), [key]: quantity(value, unitOf(key)) }));
}

function writtenStages(stages: readonly { resistance: number; timeConstant: number }[]): Record<string, string>[] {
  return stages.map(({ resistance, timeConstant }) => ({
    resistance: quantity(resistance, "K/W"),
    "time constant": quantity(timeConstant, "s"),
  }));
}

/** @throws Error for a field that nobody has given a unit */
function unitOf(key: string): string {
  const found = UNITS.find(([pattern]) => pattern.test(key));
  if (found === undefined) throw new Error(`no unit for ${key}`);
  return found[1];
}

const quantity = (value: number, unit: string): string => (unit === "" ? `${value}` : `${value} ${unit}`);
const inWords = (key: string): string => key.replaceAll(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);
