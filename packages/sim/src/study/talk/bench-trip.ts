import type { ScenarioResult } from "../../scenario/index.ts";
import type { Scenario } from "../../scenario/types.ts";
import { parseQuantity } from "../../units/index.ts";
import { readTripSettings } from "../trip/settings.ts";
import { gateOf, thresholdDevice } from "../trip/thresholds.ts";
import { toleranceAt } from "../trip/tolerance.ts";
import type { Basis } from "./types.ts";

/** The protector that is tried, and where it may trip, V. */
export interface BenchTrip {
  readonly kind: "crowbar" | "series switch" | "clamp";
  readonly label: string;
  readonly nominal: number;
  readonly low: number;
  readonly high: number;
  readonly basis: Basis;
  /** Where the range comes from, as a sentence; null: it is none. */
  readonly about: string | null;
}

/** Temperatures of a room in which a bench stands, °C (common practice, no source). */
const ROOM = { coldest: 15, hottest: 35 } as const;

/**
 * What is tried on the bench and where it may trip in a room: from the file's own tolerances, else from the worst case of the usual
 * threshold circuit of the trip study. Null for a line without a protector of its own.
 */
export function benchTrip(parsed: ScenarioResult, scenario: Scenario): BenchTrip | null {
  const found = protectorOf(scenario);
  if (found === null) return null;
  const written = spreadOf(parsed, found.path);
  if (written !== null) return { ...found, ...written, basis: "the file's tolerances" };
  if (found.kind === "clamp")
    return { ...found, low: found.nominal, high: found.nominal, basis: "the model", about: null };
  const { settings } = readTripSettings();
  if (settings === null) throw new Error("the usual settings of a trip study have problems");
  const about = { ...settings, ...ROOM, gate: gateOf(found.label) };
  const { low, high } = toleranceAt(thresholdDevice(settings.threshold), found.nominal, about);
  return {
    ...found,
    low,
    high,
    basis: "the threshold's worst case",
    about: `Worst case of a ${settings.threshold} with ${settings.resistors} resistors in a room of ${ROOM.coldest} to ${ROOM.hottest} °C; another circuit, or out of doors, lands elsewhere: see railfault trip.`,
  };
}

interface Found {
  readonly kind: BenchTrip["kind"];
  readonly label: string;
  readonly nominal: number;
  readonly path: string;
}

function protectorOf({ crowbar, seriesSwitch, clamp }: Scenario): Found | null {
  if (crowbar !== null)
    return { kind: "crowbar", label: crowbar.label, nominal: crowbar.tripVoltage, path: "crowbar.trip voltage" };
  if (seriesSwitch !== null) {
    const { label, offVoltage } = seriesSwitch;
    return { kind: "series switch", label, nominal: offVoltage, path: "series switch.off voltage" };
  }
  if (clamp === null) return null;
  return { kind: "clamp", label: clamp.label, nominal: clamp.breakdownVoltage, path: "clamp.breakdown voltage" };
}

function spreadOf({ spreads }: ScenarioResult, path: string): Pick<BenchTrip, "low" | "high" | "about"> | null {
  const spread = spreads.find((each) => each.path.join(".") === path);
  if (spread === undefined) return null;
  const volts = (value: number): number => {
    const parsed = parseQuantity(`${value} ${spread.unit}`, "voltage");
    return parsed.ok ? parsed.value : value;
  };
  const drift = spread.drift === null ? "" : ", its drift with temperature left out";
  return {
    low: volts(spread.low),
    high: volts(spread.high),
    about: `The file's tolerance of it: ${spread.written}${drift}.`,
  };
}
