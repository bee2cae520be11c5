import type { Issue } from "../../issue/issue.ts";
import { describeValue, type ScenarioResult } from "../../scenario/index.ts";
import type { Scenario, Source } from "../../scenario/types.ts";
import { the } from "../../verdict/words.ts";
import { readTripSettings } from "../trip/settings.ts";
import { type BenchTrip, spreadOf } from "./bench-trip.ts";
import { volts } from "./meter.ts";
import type { LimitBasis } from "./types.ts";

/** Which trip voltages pass, all at the protector's own terminals, V. */
export interface BenchPass {
  readonly low: number;
  readonly high: number;
  readonly basis: LimitBasis;
  /** What normal service brings to the protector; null where no source tells its voltage. */
  readonly normal: { readonly voltage: number; readonly words: string } | null;
  /** Where the first load's window ends. */
  readonly window: { readonly voltage: number; readonly load: string };
  /** Whether the value that the file sets passes itself. */
  readonly holdsNominal: boolean;
}

/**
 * What the trip voltage may be on the bench: where the protector may trip, cut where it would trip in normal service and where a load's window
 * ends. Leads drop nothing on either side: a radio that hardly draws anything sees what the protector sees, and the protector what the
 * source is set to; any current makes both ends safer.
 */
export function benchPass(parsed: ScenarioResult, scenario: Scenario, trip: BenchTrip): BenchPass {
  const normal = normalService(parsed, scenario);
  const window = windowOf(scenario);
  const isBelow = normal !== null && trip.low <= normal.voltage;
  const isAbove = trip.high > window.voltage;
  const low = isBelow ? normal.voltage : trip.low;
  const high = isAbove ? window.voltage : trip.high;
  return {
    low,
    high,
    basis: basisOf(trip, isBelow, isAbove),
    normal,
    window,
    holdsNominal: isWithin(trip.nominal, low, high),
  };
}

const isWithin = (value: number, low: number, high: number): boolean => value >= low && value <= high;

function basisOf({ basis }: BenchTrip, isBelow: boolean, isAbove: boolean): LimitBasis {
  if (isBelow && isAbove) return `${basis}, cut at the source's voltage and the radio's window`;
  if (isBelow) return `${basis}, cut at the source's voltage`;
  return isAbove ? `${basis}, cut at the radio's window` : basis;
}

/** The lowest end of all windows; above it somebody is not protected. */
function windowOf({ loads }: Scenario): BenchPass["window"] {
  const [first] = [...loads].sort((a, b) => a.limits.maximum - b.limits.maximum);
  return { voltage: first.limits.maximum, load: first.name };
}

/** The highest source, at the high end of its tolerance, and the usual ripple on it: the model's own ripple never lifts a regulated voltage. */
function normalService(parsed: ScenarioResult, { sources }: Scenario): BenchPass["normal"] {
  const found = sources.flatMap((source, index) => {
    const voltage = restOf(parsed, source, index);
    return voltage === null ? [] : [{ name: source.name, voltage, supplies: source.kind === "supply" }];
  });
  if (found.length === 0) return null;
  const highest = found.reduce((most, each) => (each.voltage > most.voltage ? each : most));
  if (!highest.supplies)
    return { voltage: highest.voltage, words: `${the(highest.name)} at rest, higher when charged` };
  const { settings } = readTripSettings();
  if (settings === null) throw new Error("the usual settings of a trip study have problems");
  return {
    voltage: highest.voltage + settings.ripple,
    words: `${volts(highest.voltage)} of ${the(highest.name)} and ripple`,
  };
}

/** Of a source at no load, V; null for a panel, which gives nothing before its controller fails. */
function restOf(parsed: ScenarioResult, source: Source, index: number): number | null {
  if (source.kind === "panel") return null;
  const [key, value] =
    source.kind === "supply" ? (["set voltage", source.setVoltage] as const) : (["emf", source.emf] as const);
  const highest = spreadOf(parsed, ["sources", index, key])?.high ?? value;
  return highest - (source.diode?.forwardVoltage ?? 0);
}

/** Why no trip voltage passes; null where one does. */
export function impossible(
  parsed: ScenarioResult,
  { kind, low, high, path }: BenchTrip,
  pass: BenchPass,
): Issue | null {
  if (pass.low <= pass.high) return null;
  const { normal, window } = pass;
  const isClamp = kind === "clamp";
  const [level, trips] = isClamp ? ["breakdown voltage", "conduct"] : ["trip voltage", "trip"];
  const bottom =
    normal === null
      ? ""
      : `at ${volts(normal.voltage)} or below it ${trips}s in normal service (${normal.words}), and `;
  const range = low === high ? `at ${volts(low)}` : `anywhere from ${volts(low)} to ${volts(high)}`;
  const at =
    normal === null
      ? `below ${volts(window.voltage)}`
      : `between ${volts(normal.voltage)} and ${volts(window.voltage)}`;
  return {
    severity: "error",
    code: "cannot-pass",
    path: path.join("."),
    message: `No ${level} of this protector can pass a test: it may ${isClamp ? "begin to conduct" : "trip"} ${range}, but ${bottom}above ${volts(window.voltage)} ${the(window.load)} is not protected. The line's own values do not protect.`,
    received: describeValue(parsed, path)?.text ?? null,
    allowed: `${at}, tolerance included`,
    hint: isClamp
      ? "a clamp that begins in between; `railfault compare` shows what else protects this line"
      : "`railfault trip` finds a trip voltage for this line",
    position: null,
  };
}
