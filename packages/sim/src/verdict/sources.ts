import type { Issue } from "../issue/issue.ts";
import type { Run, SourceFindings } from "../model/result.ts";
import { type Bar, barsOf } from "./crowbar.ts";
import { judgeLimit } from "./finding.ts";
import { endOf } from "./look.ts";
import { pastFullRemedy } from "./past-full.ts";
import type { Finding } from "./types.ts";
import { capital, duration, show, the, times } from "./words.ts";

/** A share of the charge that integration may add to a battery at rest. */
const ROUNDING = 1e-4;

/** State of charge of every battery against 0…1; one that is floated above that from the start, against its start. */
export function judgeSources(run: Run): readonly Finding[] {
  return run.sources.flatMap((source) => {
    const given = run.scenario.sources.find(({ name }) => name === source.name);
    if (source.charge === null || given?.kind !== "battery") return [];
    return charge(source, source.charge, given.initialCharge, pastFullRemedy(run, source.name));
  });
}

function charge(
  source: SourceFindings,
  { highest, lowest }: { readonly highest: number; readonly lowest: number },
  initial: number,
  modelEnds: string,
): readonly Finding[] {
  const who = capital(the(source.name));
  // A battery on float stands above its resting full by the curve of its EMF; overcharged is what is pushed in beyond that.
  const floated = initial > 1;
  const risen = highest - Math.max(1, initial);
  const began = floated
    ? ` (on float it began at ${show(initial, "ratio")}, which is full for it, and is held against that)`
    : "";
  const full = judgeLimit({
    subject: source.name,
    quantity: "state of charge",
    dimension: "ratio",
    rating: Math.max(1, initial),
    found: floated && risen < ROUNDING ? initial : highest,
    above: "beyond",
    // One that is full and was given nothing stands on its level for good.
    decides: !floated && highest - initial >= ROUNDING,
    burns: true,
    say: (severity) =>
      severity === "ok"
        ? `${who} was charged to ${show(highest, "ratio")} at most.`
        : `${who} was charged to ${show(highest, "ratio")}${began}: a full battery that goes on being charged heats up and gasses. Fire and explosion hazard.${modelEnds}`,
  });
  if (lowest >= 0) return [full];
  return [
    full,
    {
      subject: source.name,
      quantity: "lowest state of charge",
      dimension: "ratio",
      rating: 0,
      found: lowest,
      headroom: null,
      severity: "beyond",
      close: false,
      hazard: null,
      sentence: `${who} was emptied below nothing (${show(lowest, "ratio")}): the model of its voltage ends there, a real one is harmed.`,
    },
  ];
}

/** What became of the sources, and what stays live: sentences without a limit. */
export function sourceNotes(run: Run, warnings: readonly Issue[]): readonly string[] {
  const notes: string[] = [];
  const main = run.fuses.find((fuse) => fuse.subject.part === "main fuse");
  const highest = Math.max(...run.sources.map(({ peak }) => peak.value));
  if (main?.state === "open") {
    const others = run.sources.length > 1 ? " Every source on it sees that voltage." : "";
    notes.push(
      `The main fuse is open, the supply side is not dead: up to ${show(highest, "voltage")} stood at the sources.${others}`,
    );
  }
  for (const source of run.sources) {
    const who = capital(the(source.name));
    notes.push(`${who} had up to ${show(source.peak.value, "voltage")} at its terminals${flowed(source)}.`);
    const often = restarts(run, source.name);
    if (often !== null && !often.goesOn) notes.push(often.sentence);
    if (source.stateAtEnd === "latched off")
      notes.push(`${who} has latched off and stays off until it is switched off and on again.`);
    if (source.rings && !warnings.some(({ code }) => code.includes("ring")))
      notes.push(`The regulator of ${the(source.name)} rings: its damping is below 0.4.`);
  }
  return notes;
}

/** A current the other way is worth a word from this share of the larger one on: less goes to and fro with its capacitors (assumed). */
export const BACKWARDS = 0.1;

/** Which way its current went: a battery is charged, a supply is fed back by whatever stands higher than it. */
function flowed({ mostGiven: gave, mostTaken: took }: SourceFindings): string {
  const least = BACKWARDS * Math.max(gave, took);
  const ways = Object.entries({ gave, took }).flatMap(([way, most]) =>
    most > least ? [`${way} up to ${show(most, "current")}`] : [],
  );
  return `${ways.length > 1 ? "," : " and"} ${ways.join(" and ") || "carried no current"}`;
}

/** From this many restarts on a supply is said to go on and off. */
const OFTEN = 3;

/** Whether an SCR's own tripping tells of a supply's restarts. */
function isTold({ found: { cycling, failedShort, firings } }: Bar, end: number, goesOn: boolean): boolean {
  if (cycling === null) return false;
  const trips = !failedShort && end - (firings.at(-1) ?? 0) <= 2 * cycling.period;
  return trips || !goesOn;
}

interface Restarts {
  /** Still so when the run ends. */
  readonly goesOn: boolean;
  readonly sentence: string;
}

/** A supply that goes off and restarts again and again; null where it does not, or where a crowbar's tripping tells of it. */
export function restarts(run: Run, name: string): Restarts | null {
  const found = run.sources.find((source) => source.name === name);
  if (found === undefined || found.restarts.length < OFTEN) return null;
  const { limiterTrips, shutdowns } = found;
  const [before, last] = found.restarts.slice(-2) as [number, number];
  const period = last - before;
  const quiet = endOf(run) - Math.max(last, limiterTrips.at(-1) ?? 0, shutdowns.at(-1) ?? 0);
  const goesOn = quiet < 2 * period;
  // What ended before the restarts did tells nothing of them.
  if (barsOf(run).some((bar) => isTold(bar, endOf(run), goesOn))) return null;
  const ways = [
    limiterTrips.length === 0 ? null : `went off at its limit ${times(limiterTrips.length)}`,
    shutdowns.length === 0 ? null : `was shut down by its own OVP ${times(shutdowns.length)}`,
  ].filter((way) => way !== null);
  const still = goesOn ? " It still does so when the run ends." : "";
  const sentence = `${capital(the(name))} ${[...ways, `restarted ${times(found.restarts.length)}`].join(" and ")}, in the end every ${duration(period)}.${still}`;
  return { goesOn, sentence };
}
