import { endOf, findPart, formatQuantity, type Run, type Verdict } from "@railfault/sim";
import { figureData, type WaveformData } from "@railfault/sim/figures";
import type { Answer } from "../../run/protocol.ts";
import { protectionOf } from "../regulator-fails/compare.ts";
import { firstAct } from "../regulator-fails/first-act.ts";
import { zeroOf } from "../regulator-fails/story.ts";

/** Of a battery that a charger creeps up. Times in s. */
export interface Creep {
  readonly battery: string;
  /** From the fault to the firing; null: the crowbar did not fire. */
  readonly untilTrip: number | null;
  /** From the fault to the end of the run. */
  readonly watched: number;
  /** From the fault on and until the trip, the time that the battery's terminals stood above its charge limit. */
  readonly aboveLimit: number;
  /** Taken in beyond full, Ah; beyond what it was floated to, where it began above full. */
  readonly beyondFull: number;
  /** What counts as full: 1, or more where it began above that. */
  readonly full: number;
  /** Largest state of charge; 1 is full. */
  readonly charge: number;
  /** What the verdict says of its charge. */
  readonly warning: string | null;
}

/**
 * How long one has: the first battery of a run against a charge limit, V. Null where the line has no battery.
 *
 * @example creepOf(answer, 14.4)?.untilTrip
 */
export function creepOf({ run, verdict }: Answer, limit: number): Creep | null {
  const { scenario } = run;
  const index = scenario.sources.findIndex(({ kind }) => kind === "battery");
  const source = scenario.sources[index];
  const found = run.sources[index];
  if (source?.kind !== "battery" || found?.charge == null) return null;
  const trip = firstFiring(run);
  const from = scenario.faultTime;
  const to = trip ?? endOf(run);
  const data = figureData(run, verdict);
  const terminals = data.voltages.find(({ label, role }) => label === source.name && role === "supply");
  const full = Math.max(1, source.initialCharge);
  return {
    battery: source.name,
    untilTrip: trip === null ? null : trip - from,
    watched: endOf(run) - from,
    aboveLimit: terminals === undefined ? 0 : timeAbove(data.time, terminals.values, limit, from, to),
    full,
    beyondFull: Math.max(0, found.charge.highest - full) * source.capacityAh,
    charge: found.charge.highest,
    warning: chargeSentence(verdict, source.name),
  };
}

/** The instant of the line's first firing, s since the start of the run; null: it did not fire. */
export function firstFiring({ crowbar }: Run): number | null {
  return crowbar?.firings[0] ?? null;
}

/**
 * What trips in place of a crowbar that did not fire: another protector with its time, or none.
 *
 * @param watched from the fault to the end of the run, s
 */
export function withoutTrip(run: Run, watched: number): string {
  const { scenario } = run;
  const within = `within the ${inWords(watched)} of this run`;
  if (scenario.crowbar !== null) return `Nothing trips ${within}.`;
  const others = protectionOf(scenario);
  if (others === null) return "Nothing protects this line: nothing ever trips.";
  const act = firstAct(run);
  const none = `There is no crowbar on this line; what protects the radio is ${others}.`;
  if (act === null) return `${none} Nothing trips ${within}.`;
  const { time, words } = zeroOf(run);
  return `${none} ${act.words} ${inWords(act.time - time)} ${words}.`;
}

function chargeSentence(verdict: Verdict, battery: string): string | null {
  if (verdict.kind !== "verdict") return null;
  return (
    verdict.findings.find(({ subject, quantity }) => subject === battery && quantity === "state of charge")?.sentence ??
    null
  );
}

/**
 * Time above a level between two instants, s: straight lines between the rows.
 *
 * @example timeAbove(Float64Array.of(0, 2), Float64Array.of(13, 15), 14, 0, 2) // 1
 */
export function timeAbove(time: Float64Array, values: Float64Array, level: number, from: number, to: number): number {
  let total = 0;
  for (let i = 1; i < time.length && time[i - 1] < to; i++) {
    const span = time[i] - time[i - 1];
    if (span <= 0 || time[i] <= from) continue;
    const at = (instant: number): number =>
      values[i - 1] + ((instant - time[i - 1]) / span) * (values[i] - values[i - 1]) - level;
    const [a, b] = [Math.max(from, time[i - 1]), Math.min(to, time[i])];
    const [before, after] = [at(a), at(b)];
    if (before > 0 && after > 0) total += b - a;
    else if (before > 0 !== after > 0) total += ((b - a) * Math.max(before, after)) / Math.abs(after - before);
  }
  return total;
}

/** Where charging usually ends: the lower end of what the sources of the part classes name. */
const USUAL_LIMITS = { lithium: 14.2, lead: 14.4 } as const;

/** The voltage at which charging of a class of batteries usually ends, V, with where that comes from. */
export function usualLimit(partClass: string | null): { readonly volts: number; readonly source: string } {
  const about = findPart("battery", partClass ?? "")?.about ?? "";
  return about.includes("lithium")
    ? { volts: USUAL_LIMITS.lithium, source: "transcribed: 14.2 to 14.6 V at the end of charging" }
    : { volts: USUAL_LIMITS.lead, source: "published: 14.4 to 15.0 V while charging" };
}

/** What the run says of its fault where times are counted from it. */
const COUNTED_FROM_FAULT = "All times are counted from here.";
const COUNTED_FROM_TRIP = "From here on the voltage creeps; the picture counts its times from the trip.";

/** The same run with its times counted from the trip; as it is where nothing trips. */
export function fromTrip(data: WaveformData, run: Run): WaveformData {
  const trip = firstFiring(run);
  if (trip === null) return data;
  const events = data.events.map((event) => ({
    ...event,
    explanation: event.explanation.replace(COUNTED_FROM_FAULT, COUNTED_FROM_TRIP),
  }));
  return { ...data, events, faultTime: trip, zero: "trip" };
}

/** The same data, with what the sign of a battery's current means beside its name, where it is drawn and where it is read. */
export function withSigns(data: WaveformData, { scenario }: Run): WaveformData {
  const leads = new Set(scenario.sources.filter(({ kind }) => kind === "battery").map(({ name }) => `${name} lead`));
  return {
    ...data,
    currents: data.currents.map((curve) =>
      leads.has(curve.label) ? { ...curve, label: `${curve.label} (minus: charging)` } : curve,
    ),
  };
}

/** Three digits as people say them: `2 h 12 min`, `3.24 ms`. */
export const inWords = (seconds: number): string => formatQuantity(seconds, "time");
