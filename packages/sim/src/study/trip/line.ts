import type { Issue } from "../../issue/issue.ts";
import { describeValue, type ScenarioResult, type TextChange } from "../../scenario/index.ts";
import { commonPractice, fromMemory, published, transcribed } from "../../scenario/parts/cite.ts";
import { findPart } from "../../scenario/parts/index.ts";
import type { Cited } from "../../scenario/parts/types.ts";
import type { Load, Scenario } from "../../scenario/types.ts";
import { formatQuantity } from "../../units/index.ts";
import { issue, readTripSettings } from "./settings.ts";
import type { TripSettings } from "./types.ts";

type Path = TextChange[0];

/** The protector whose trip point is asked about. */
export interface Protector {
  readonly kind: "crowbar" | "series switch";
  readonly label: string;
  /** Where its trip voltage stands in the file. */
  readonly tripPath: Path;
  readonly trip: number;
  readonly filterPath: Path;
  readonly filter: number;
  /** From the driven gate to conduction, or from the decision to the opening, s. */
  readonly delayPath: Path;
  readonly delay: number;
  /** Columns of the trace: what it watches, and what its filter makes of it. */
  readonly node: string;
  readonly sensed: string;
}

/** What one load draws in its two states, in its own unit, and how to write that. */
export interface LoadState {
  readonly index: number;
  readonly name: string;
  readonly limit: number;
  readonly column: string;
  readonly key: "current" | "power" | "resistance" | null;
  readonly receive: string;
  /** Null where nothing tells it. */
  readonly transmit: string | null;
  readonly hasSchedule: boolean;
  readonly hasContact: boolean;
}

/** What the study needs to know of a line. */
export interface TripLine {
  readonly parsed: ScenarioResult;
  readonly scenario: Scenario;
  readonly protector: Protector;
  readonly loads: readonly LoadState[];
  /** Indices of the sources that have a fault, of supplies and of batteries; V. */
  readonly faulty: readonly number[];
  readonly supplies: readonly { readonly index: number; readonly setVoltage: number }[];
  readonly batteries: readonly number[];
  /** Of the highest supply in normal service; null where there is none. */
  readonly setVoltage: { readonly name: string; readonly value: number } | null;
  /** The highest EMF of a battery at the start; null without any. */
  readonly restingEmf: { readonly name: string; readonly value: number } | null;
  /** What the battery is charged to, where something charges it. */
  readonly charge: Cited<number> | null;
  /** V/K. */
  readonly compensation: Cited<number> | null;
}

/** Looks at a line; where it cannot be asked, every reason. */
export function readTripLine(parsed: ScenarioResult, scenario: Scenario, settings: TripSettings): TripLine | Issue[] {
  const protector = protectorOf(scenario);
  const issues: Issue[] = [];
  if (protector === null) {
    issues.push(
      issue("no-protector", "crowbar", "There is no protector in this line whose trip point could be set.", {
        hint: "write `crowbar: {part: SCR 55 A, trip voltage: 15 V, sense filter: fast}`",
      }),
    );
  }
  const supplies = scenario.sources.flatMap((source, index) =>
    source.kind === "supply" ? [{ index, setVoltage: source.setVoltage }] : [],
  );
  const faulty = scenario.sources.flatMap((source, index) =>
    source.kind !== "battery" && source.fault.kind !== "none" ? [index] : [],
  );
  if (settings.ramp !== null && supplies.length === 0) {
    issues.push(
      issue("no-supply", "ramp", "There is no supply in this line that could lose its feedback.", {
        received: formatQuantity(settings.ramp, "voltage slew"),
      }),
    );
  }
  const kinds = scenario.sources.map((_, index) => kindOf(parsed, index));
  const batteries = scenario.sources.flatMap(({ kind }, index) => (kind === "battery" ? [index] : []));
  const lithium = batteries.some((index) => partOf(parsed, ["sources", index])?.startsWith("LiFePO4"));
  const charges = batteries.length > 0 && kinds.some((kind) => kind === "charger" || kind === "panel");
  const setVoltage = highestOf(
    scenario.sources.flatMap((source) =>
      source.kind === "supply" ? [{ name: source.name, value: source.setVoltage }] : [],
    ),
  );
  const restingEmf = highestOf(
    scenario.sources.flatMap((source) => (source.kind === "battery" ? [{ name: source.name, value: source.emf }] : [])),
  );
  if (setVoltage === null && batteries.length === 0 && settings.supplyMaximum === null) {
    issues.push(
      issue("no-normal-voltage", "supply-maximum", "Nothing in this line tells its voltage in normal service.", {
        allowed: "a voltage, for instance 14 V",
      }),
    );
  }
  if (protector === null || issues.length > 0) return issues;
  const isCharged = settings.chargeVoltage !== null || charges;
  return {
    parsed,
    scenario,
    protector,
    loads: scenario.loads.map((load, index) => loadState(parsed, load, index, settings.transmit)),
    faulty,
    supplies,
    batteries,
    setVoltage,
    restingEmf,
    charge: charges ? usualCharge(lithium) : null,
    compensation: isCharged && batteries.length > 0 && !lithium ? USUAL_COMPENSATION : null,
  };
}

/** What holds for a line as long as nobody says otherwise; null where it has no such thing. */
export interface UsualTripValues {
  /** V. */
  readonly setVoltage: number | null;
  /** V. */
  readonly chargeVoltage: number | null;
  /** V/K. */
  readonly compensation: number | null;
}

/**
 * What a study takes from a line for settings that are left open.
 *
 * @param parsed of `parseScenario`; with errors in it nothing is known
 */
export function usualTripValues(parsed: ScenarioResult): UsualTripValues {
  const { settings } = readTripSettings();
  const { scenario } = parsed;
  const line = scenario === null || settings === null ? null : readTripLine(parsed, scenario, settings);
  if (line === null || Array.isArray(line)) return { setVoltage: null, chargeVoltage: null, compensation: null };
  return {
    setVoltage: line.setVoltage?.value ?? null,
    chargeVoltage: line.charge?.value ?? null,
    compensation: line.compensation?.value ?? null,
  };
}

function highestOf(list: readonly { readonly name: string; readonly value: number }[]): TripLine["setVoltage"] {
  return list.reduce<TripLine["setVoltage"]>(
    (most, each) => (most === null || each.value > most.value ? each : most),
    null,
  );
}

const USUAL_COMPENSATION = commonPractice(
  20e-3,
  "lead-acid chargers: about −20 mV/K for a 12 V battery",
) as Cited<number>;

function usualCharge(lithium: boolean): Cited<number> {
  return (
    lithium
      ? transcribed(14.6, "LiFePO4: 14.2 to 14.6 V at the end of charging; the upper end")
      : published(14.4, "sheet of a 12 V AGM battery: 14.4 to 15.0 V while it is charged; the lower end")
  ) as Cited<number>;
}

function protectorOf({ crowbar, seriesSwitch, mainFuse }: Scenario): Protector | null {
  if (crowbar !== null) {
    return {
      kind: "crowbar",
      label: crowbar.label,
      tripPath: ["crowbar", "trip voltage"],
      trip: crowbar.tripVoltage,
      filterPath: ["crowbar", "sense filter"],
      filter: crowbar.senseTimeConstant,
      delayPath: ["crowbar", "turn on delay"],
      delay: crowbar.gateDelay,
      node: "protected_side_V",
      sensed: "crowbar_sense_V",
    };
  }
  if (seriesSwitch === null) return null;
  const isSupplySide = seriesSwitch.sense === "supply side" && mainFuse !== null;
  return {
    kind: "series switch",
    label: seriesSwitch.label,
    tripPath: ["series switch", "off voltage"],
    trip: seriesSwitch.offVoltage,
    filterPath: ["series switch", "sense filter"],
    filter: seriesSwitch.senseTimeConstant,
    delayPath: ["series switch", "opening time"],
    delay: seriesSwitch.openingTime,
    node: isSupplySide ? "supply_side_V" : "protected_side_V",
    sensed: "series_switch_sense_V",
  };
}

/** In the words of the file, which tells a charger and a panel from a supply. */
const kindOf = (parsed: ScenarioResult, index: number): unknown => {
  const part = partOf(parsed, ["sources", index]);
  const classKind = ["supply", "charger", "battery", "panel"].find(
    (kind) => part !== null && findPart(kind as "supply", part) !== null,
  );
  return classKind ?? describeValue(parsed, ["sources", index, "kind"])?.value;
};

function partOf(parsed: ScenarioResult, path: Path): string | null {
  const value = describeValue(parsed, [...path, "part"])?.value;
  return typeof value === "string" ? value : null;
}

const TRANSMITTING = ", transmitting";
const DIMENSIONS = { current: "A", power: "W", resistance: "ohm" } as const;

function drawOf(load: Exclude<Load, { kind: "lamp" }>): [key: keyof typeof DIMENSIONS, own: number] {
  if (load.kind === "constant current") return ["current", load.current];
  return load.kind === "constant power" ? ["power", load.power] : ["resistance", load.resistance];
}

/** Receiving is the worse state when the fault strikes; the twin of a part class, a schedule or the setting tells the other. */
function loadState(parsed: ScenarioResult, load: Load, index: number, given: number | null): LoadState {
  const { name, limits, schedule, lead } = load;
  const common = {
    index,
    name,
    limit: limits.maximum,
    column: `${name.replaceAll(/\s+/g, "_")}_V`,
    hasSchedule: schedule.length > 0,
    hasContact: lead.contact !== null,
  };
  if (load.kind === "lamp") return { ...common, key: null, receive: "", transmit: null };
  const [key, own] = drawOf(load);
  const unit = DIMENSIONS[key];
  const part = partOf(parsed, ["loads", index]);
  const twin = (named: string | null): number | null => {
    const value = named === null ? null : findPart("load", named)?.values[key]?.value;
    return typeof value === "number" ? value : null;
  };
  const isTransmitting = part?.endsWith(TRANSMITTING) === true;
  const quiet = isTransmitting ? twin(part.slice(0, -TRANSMITTING.length)) : null;
  const busy = isTransmitting ? own : twin(part === null ? null : `${part}${TRANSMITTING}`);
  const all = [own, quiet ?? own, busy ?? own, ...schedule.map(({ value }) => value)];
  // The most current is the least resistance.
  const [least, most] = [Math.min(...all), Math.max(...all)];
  const [receive, found] = key === "resistance" ? [most, least] : [least, most];
  const asked = given === null || index > 0 ? found : ownUnit(key, given);
  return {
    ...common,
    key,
    receive: `${receive} ${unit}`,
    transmit: asked === receive ? null : `${asked} ${unit}`,
  };
}

const NOMINAL = fromMemory(13.8, "a 12 V line in service").value as number;

function ownUnit(key: "current" | "power" | "resistance", current: number): number {
  return key === "current" ? current : key === "power" ? current * NOMINAL : NOMINAL / current;
}
