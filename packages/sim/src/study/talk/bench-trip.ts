import { describeValue, type ScenarioResult } from "../../scenario/index.ts";
import { CLAMP_ROWS } from "../../scenario/parts/clamps.ts";
import type { Scenario } from "../../scenario/types.ts";
import { parseQuantity } from "../../units/index.ts";
import { readTripSettings } from "../trip/settings.ts";
import { gateOf, thresholdDevice } from "../trip/thresholds.ts";
import { toleranceAt } from "../trip/tolerance.ts";
import { volts } from "./meter.ts";
import type { Basis } from "./types.ts";

/** The protector that is tried, and where it may trip, V. */
export interface BenchTrip {
  readonly kind: "crowbar" | "series switch" | "clamp";
  readonly label: string;
  readonly nominal: number;
  /** Of the nominal value in the file. */
  readonly path: readonly string[];
  readonly low: number;
  readonly high: number;
  readonly basis: Basis;
  /** Where the range comes from, as a sentence; null: it is none. */
  readonly about: string | null;
}

/** Temperatures of a room in which a bench stands, °C (common practice, no source). */
const ROOM = { coldest: 15, hottest: 35 } as const;
const ROOM_ENDS = [ROOM.coldest, ROOM.hottest] as const;

/**
 * What is tried on the bench and where it may trip in a room: from the file's own tolerances, else from a clamp's data sheet or the worst case
 * of the usual threshold circuit of the trip study. Null for a line without a protector of its own.
 */
export function benchTrip(parsed: ScenarioResult, scenario: Scenario): BenchTrip | null {
  const found = protectorOf(scenario);
  if (found === null) return null;
  const written = spreadOf(parsed, found.path);
  if (written !== null) return { ...found, ...written, basis: "the file's tolerances" };
  if (found.kind === "clamp") return { ...found, ...sheetOf(parsed, found) };
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

type Found = Pick<BenchTrip, "kind" | "label" | "nominal" | "path">;

function protectorOf({ crowbar, seriesSwitch, clamp }: Scenario): Found | null {
  if (crowbar !== null)
    return { kind: "crowbar", label: crowbar.label, nominal: crowbar.tripVoltage, path: ["crowbar", "trip voltage"] };
  if (seriesSwitch !== null) {
    const { label, offVoltage } = seriesSwitch;
    return { kind: "series switch", label, nominal: offVoltage, path: ["series switch", "off voltage"] };
  }
  if (clamp === null) return null;
  return { kind: "clamp", label: clamp.label, nominal: clamp.breakdownVoltage, path: ["clamp", "breakdown voltage"] };
}

/** The breakdown of a part class, whose nominal value is the upper end of its sheet. */
function sheetOf(
  parsed: ScenarioResult,
  { nominal, path }: Found,
): Pick<BenchTrip, "low" | "high" | "basis" | "about"> {
  const partClass = describeValue(parsed, path)?.partClass ?? null;
  const row = CLAMP_ROWS.find(({ name }) => name === partClass);
  if (row === undefined) return { low: nominal, high: nominal, basis: "the model", about: null };
  const { minimum: low, maximum: high } = row.breakdown;
  const about = `Its data sheet allows a breakdown from ${volts(low)} to ${volts(high)}; the readings are those of the upper end.`;
  return { low, high, basis: "the part's data sheet", about };
}

/** What the file's own tolerances say of a voltage, V; null where they say nothing. */
export function spreadOf(
  { spreads }: ScenarioResult,
  path: readonly (string | number)[],
): Pick<BenchTrip, "low" | "high" | "about"> | null {
  const spread = spreads.find((each) => each.path.join(".") === path.join("."));
  if (spread === undefined) return null;
  const inVolts = (value: number): number => {
    const parsed = parseQuantity(`${value} ${spread.unit}`, "voltage");
    return parsed.ok ? parsed.value : value;
  };
  const { drift, shape, written } = spread;
  const gains =
    drift === null ? [0] : [drift.low, drift.high].flatMap((gain) => ROOM_ENDS.map((t) => gain * (t - drift.from)));
  const room = `temperature ${drift === null ? "left out" : `from ${ROOM.coldest} to ${ROOM.hottest} °C`}`;
  // A fit writes a bell.
  const gain =
    shape === "normal"
      ? " From a capture, it leaves out the scope's gain, too, 3 % (common practice, no source): believe a meter."
      : "";
  return {
    low: inVolts(spread.low + Math.min(...gains)),
    high: inVolts(spread.high + Math.max(...gains)),
    about: `The file's tolerance of it: ${written}, ${room}.${gain}`,
  };
}
