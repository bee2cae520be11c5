import { type Crowbar, formatQuantity, type Run } from "@railfault/sim";
import type { Answer } from "../../run/protocol.ts";
import { unbroken } from "../../show/words.ts";
import { inWords } from "./clock.ts";
import { meltedBefore, type PlaceFacts, placeFacts, scrFailure } from "./place-facts.ts";

const amperes = (value: number): string => formatQuantity(value, "current");
const celsius = (value: number): string => formatQuantity(value, "temperature");
const volts = (value: number): string => formatQuantity(value, "voltage");

/**
 * What became of battery, SCR and charger after the trip, made from what the run found: whether anything fired, what took the battery
 * away, and what the SCR has to carry since.
 *
 * @example afterwards(answer) // "The blade fuse 20 A takes the hut battery away 3.25 ms after the trip. …"
 */
export function afterwards(answer: Answer): string {
  const { run } = answer;
  const { scenario, crowbar } = run;
  if (crowbar === null || scenario.crowbar === null)
    return "There is no crowbar on this line, and so no SCR that anything could hold on.";
  if (crowbar.firings.length === 0) return unbroken(neverFired(run, scenario.crowbar.tripVoltage));
  const facts = placeFacts(answer);
  return unbroken([...ofBattery(run, facts), ...ofScr(run), ...ofWire(facts)].join(" "));
}

/** Current of a part when the run ends, A; of a source: out of it. */
function lastCurrent(run: Run, part: string): number {
  const column = `${part.replaceAll(/\s+/g, "_")}_A`;
  return run.trace.columns.find(({ name }) => name === column)?.values.at(-1) ?? 0;
}

const batteryOf = ({ scenario }: Run) => scenario.sources.find(({ kind }) => kind === "battery") ?? null;

/** Those that still give current when the run ends and are no battery. */
function feeders(run: Run): readonly { readonly name: string; readonly gives: number }[] {
  return run.scenario.sources
    .filter(({ kind }) => kind !== "battery")
    .map(({ name }) => ({ name, gives: lastCurrent(run, name) }))
    .filter(({ gives }) => gives > LEFT_OVER);
}

/** Smaller currents are what is left of a decay, A. */
const LEFT_OVER = 1e-3;

function neverFired(run: Run, tripVoltage: number): string {
  const sensed = run.crowbar?.peakSense.value ?? 0;
  const nothing = `Nothing fires in this run: the crowbar sees ${volts(sensed)} at most and waits for ${volts(tripVoltage)}. Nothing is taken away and the SCR stays cold.`;
  const battery = batteryOf(run);
  if (battery === null) return nothing;
  const into = -lastCurrent(run, battery.name);
  return into > LEFT_OVER
    ? `${nothing} The battery is charged on and on: when the run ends, the ${battery.name} still takes ${amperes(into)}.`
    : nothing;
}

function ofBattery(run: Run, facts: PlaceFacts | null): readonly string[] {
  const battery = batteryOf(run);
  if (battery === null || facts === null)
    return ["There is no battery on this line that a fuse would have to take away."];
  const { fuse, wire } = facts;
  if (meltedBefore(fuse))
    return [
      `The ${fuse.label} takes the ${battery.name} away ${inWords(-fuse.melted)} before the trip: the charging current melts it.`,
    ];
  if (fuse?.open != null) {
    const doubt =
      fuse.ableToBreak === false
        ? " That is more than it is able to break, though: it may burst or go on burning."
        : fuse.ableToBreak === null
          ? " Whether it is able to break that current, nobody has published for direct current."
          : "";
    return [`The ${fuse.label} takes the ${battery.name} away ${inWords(fuse.open)} after the trip.${doubt}`];
  }
  const gives = lastCurrent(run, battery.name);
  // Past molten copper a current would be of a line that is no more.
  const still =
    wire.copperMelts === null && gives > LEFT_OVER ? ` When the run ends, ${amperes(gives)} still come out of it.` : "";
  if (fuse === null)
    return [`Nothing takes the ${battery.name} away: there is no fuse between it and the crowbar.${still}`];
  return fuse.melted === null
    ? [`Nothing takes the ${battery.name} away: the ${fuse.label} does not melt.${still}`]
    : [`The ${fuse.label} melts ${inWords(fuse.melted)} after the trip but does not open.${still}`];
}

function ofWire(facts: PlaceFacts | null): readonly string[] {
  const melts = facts?.wire.copperMelts ?? null;
  return melts === null
    ? []
    : [
        `The copper of the battery’s lead melts ${inWords(melts)} after the trip: what the run tells of later is no longer the course of a real line.`,
      ];
}

function ofScr(run: Run): readonly string[] {
  const { crowbar, scenario } = run;
  const spec = scenario.crowbar;
  if (crowbar === null || spec === null) return [];
  const { firings, stops } = crowbar;
  if (crowbar.failedShort) {
    const failed = scrFailure(run);
    const when = failed === null ? "" : ` ${inWords(failed - firings[0])} after the trip`;
    return [
      `The SCR is destroyed${when}: its junction passes the ${celsius(spec.failTemperature)} at which it counts as failed, and from then on it is a short circuit that never lets go.`,
      heatSink(run, spec, failed),
    ];
  }
  if (!crowbar.conductingAtEnd) {
    const last = stops.at(-1);
    if (firings.length > 1) return [`The SCR fires ${firings.length} times in this run and lets go each time.`];
    return last === undefined
      ? []
      : [`The SCR lets go ${inWords(last - firings[0])} after the trip; nothing holds it on.`];
  }
  const held = feeders(run).map(({ name, gives }) => `the ${name}, with ${amperes(gives)}`);
  const stays = held.length === 0 ? "" : `What stays is ${held.join(", and ")}. `;
  const through = lastCurrent(run, "crowbar");
  const lets =
    spec.variant === "plain"
      ? `; it would let go below ${amperes(spec.holdingCurrent)}`
      : "; its gate is kept on until somebody resets it";
  const end = crowbar.endTemperature;
  const limit = celsius(spec.ratings.junctionTemperature);
  const hot = end > spec.ratings.junctionTemperature ? `above its limit of ${limit}` : `${limit} is its limit`;
  const carry =
    end > spec.ratings.junctionTemperature
      ? heatSink(run, spec, null)
      : "The heat sink has to carry that for as long as nobody comes.";
  return [
    `${stays}When the run ends, ${amperes(through)} still flow through the SCR${lets}.`,
    `Its junction is at ${celsius(end)}; ${hot}. ${carry}`,
  ];
}

/**
 * Whether any heat sink carries the current that flows on: with a case that stays at the ambient temperature the junction's own stages are what
 * is left to warm.
 *
 * @param failed when the SCR failed, s; null: it conducts when the run ends
 */
function heatSink(run: Run, spec: Crowbar, failed: number | null): string {
  const { ambient } = run.scenario;
  const amps = failed === null ? lastCurrent(run, "crowbar") : currentBefore(run, failed);
  const power = (spec.thresholdVoltage + spec.slopeResistance * amps) * amps;
  const own = power * spec.junctionStages.reduce((sum, { resistance }) => sum + resistance, 0);
  const room = spec.ratings.junctionTemperature - ambient - own;
  if (!(power > 0 && room > 0)) return "No heat sink can carry that; something has to take the current away.";
  return `A heat sink of at most ${formatQuantity(room / power, "thermal resistance", { digits: 2 })} from case to air would carry that on and on; this one has ${formatQuantity(spec.caseToAmbient, "thermal resistance", { digits: 2 })}.`;
}

/** Current through the SCR at the last row before an instant, A. */
function currentBefore({ trace }: Run, instant: number): number {
  const values = trace.columns.find(({ name }) => name === "crowbar_A")?.values ?? [];
  let row = 0;
  while (row + 1 < trace.time.length && trace.time[row + 1] < instant) row++;
  return values[row] ?? 0;
}
