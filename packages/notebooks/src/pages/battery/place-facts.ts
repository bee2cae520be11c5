import { type Finding, heldRiseAtOnce, type Run } from "@railfault/sim";
import type { Answer } from "../../run/protocol.ts";
import { ableToBreak } from "../../show/able-to-break.ts";
import { deadShort } from "./breaking.ts";
import { firstFiring, inWords } from "./clock.ts";

/** What became of one path from the battery to the crowbar, after the trip. Times in s after it, negative before it; null: it did not happen. */
export interface PlaceFacts {
  /** s since the start of the run; null: nothing tripped. */
  readonly trip: number | null;
  /** Largest current out of the battery from the trip on, A. */
  readonly peakCurrent: number;
  /** The fuse in the path of the crowbar's current. */
  readonly fuse: {
    readonly label: string;
    readonly melted: number | null;
    readonly open: number | null;
    /** Largest current through it in this run, A. */
    readonly carried: number;
    /** What a short circuit right behind it would give, A; null where it does not stand at the battery. */
    readonly deadShort: number | null;
    /** Its breaking capacity, A; null: not known. */
    readonly breaks: number | null;
    /** Whether it is able to break what it faced here; null: not known, or it had nothing to break. */
    readonly ableToBreak: boolean | null;
  } | null;
  readonly scr: {
    readonly failed: number | null;
    readonly peakTemperature: number;
    /** Its rating, °C. */
    readonly rated: number;
    /** Above it the SCR counts as failed, °C. */
    readonly failTemperature: number;
  } | null;
  readonly wire: {
    /** °C. */
    readonly reached: number;
    readonly insulation: number;
    readonly pastInsulation: number | null;
    readonly copperMelts: number | null;
  };
  /** What became of the radio, in the verdict's words. */
  readonly radio: string;
  /** What the verdict holds against SCR, fuses and leads, in its own sentences. */
  readonly hurt: readonly string[];
}

/** Melting point of copper, °C. */
export const COPPER_MELTS = 1085;

/** What the verdict says of the copper of a source's lead, °C; at most its melting point. */
function copperOf(verdict: Answer["verdict"], name: string): number | null {
  if (verdict.kind !== "verdict") return null;
  const own = ({ subject, quantity }: Finding): boolean =>
    quantity.startsWith("copper") && (subject === `lead of ${name}` || subject === `lead of the ${name}`);
  return verdict.findings.find(own)?.found ?? null;
}

/** The facts of a run whose first battery is looked at; null where it has none. */
export function placeFacts({ run, verdict }: Answer): PlaceFacts | null {
  const { scenario } = run;
  const index = scenario.sources.findIndex(({ kind }) => kind === "battery");
  const source = scenario.sources[index];
  const lead = run.leads[index];
  if (source === undefined || lead === undefined) return null;
  const trip = firstFiring(run);
  const since = (time: number | null | undefined): number | null =>
    time == null || trip === null ? null : time - trip;
  const inPath = run.fuses.find(
    ({ subject }) => subject.part === "main fuse" || (subject.part === "in-line fuse" && subject.owner === source.name),
  );
  const { crowbar } = run;
  const { insulation } = source.lead;
  const reached = copperOf(verdict, source.name) ?? scenario.ambient + lead.peakRise;
  // The recorded rise is that of held resistance: within the seconds of a short it stands for IEC 60949's without loss of heat.
  const passes = (temperature: number): number | null => {
    if (trip === null || reached < Math.min(temperature, COPPER_MELTS - 1)) return null;
    const rise = heldRiseAtOnce(scenario.ambient, temperature);
    return firstAbove(run, `${source.name} lead rise`, "K", Math.min(rise, 0.999 * lead.peakRise), trip);
  };
  return {
    trip,
    peakCurrent: trip === null ? 0 : largestFrom(run, `${source.name}`, trip),
    fuse:
      inPath === undefined
        ? null
        : {
            label: inPath.label,
            melted: since(inPath.meltTime),
            open: since(inPath.openTime),
            carried: inPath.peakCurrent,
            deadShort: source.lead.fuse === null ? null : deadShort(run, source.lead.fuse.coldResistance),
            breaks:
              (inPath.subject.part === "main fuse" ? scenario.mainFuse : source.lead.fuse)?.breakingCapacity ?? null,
            ableToBreak: ableToBreak(verdict, inPath),
          },
    scr:
      crowbar === null
        ? null
        : {
            failed: since(scrFailure(run)),
            peakTemperature: crowbar.peakTemperature.value,
            rated: scenario.crowbar?.ratings.junctionTemperature ?? Number.POSITIVE_INFINITY,
            failTemperature: scenario.crowbar?.failTemperature ?? Number.POSITIVE_INFINITY,
          },
    wire: {
      reached,
      insulation: insulation.shortCircuit,
      pastInsulation: passes(insulation.shortCircuit),
      copperMelts: passes(COPPER_MELTS),
    },
    radio: verdict.headline,
    hurt: verdict.kind === "verdict" ? verdict.findings.filter(concerns).map(({ sentence }) => sentence) : [],
  };
}

const BAD = new Set<Finding["severity"]>(["beyond", "unknown", "used up"]);

function concerns({ subject, severity }: Finding): boolean {
  return BAD.has(severity) && /^(crowbar|main fuse|in-line fuse|lead of)/.test(subject);
}

/** When the line's SCR became a short circuit for good, s since the start of the run; null: it did not. */
export function scrFailure({ events }: Run): number | null {
  return events.find(({ kind, subject }) => kind === "fails short" && subject.part === "crowbar")?.time ?? null;
}

/** The largest current out of a part that is recorded from an instant on, A; 0 where none comes out of it. */
function largestFrom({ trace }: Run, name: string, after: number): number {
  const values = trace.columns.find((each) => each.name === `${name.replaceAll(/\s+/g, "_")}_A`)?.values;
  let largest = 0;
  if (values !== undefined)
    for (let i = 0; i < values.length; i++) if (trace.time[i] >= after && values[i] > largest) largest = values[i];
  return largest;
}

/** When a recorded value first passes a level after an instant, s after it; straight lines between the rows. */
function firstAbove(run: Run, name: string, unit: string, level: number, after: number): number | null {
  const column = `${name.replaceAll(/\s+/g, "_")}_${unit}`;
  const values = run.trace.columns.find((each) => each.name === column)?.values;
  if (values === undefined) return null;
  const { time } = run.trace;
  for (let i = 1; i < time.length; i++) {
    if (time[i] < after || values[i] <= level) continue;
    const rise = values[i] - values[i - 1];
    const share = rise > 0 ? Math.max(0, (level - values[i - 1]) / rise) : 1;
    return Math.max(0, time[i - 1] + share * (time[i] - time[i - 1]) - after);
  }
  return null;
}

/** What became of it in a word or two, with its tone. */
export function tagOfPlace({ trip, fuse, scr, wire }: PlaceFacts): { readonly tone: string; readonly words: string } {
  if (trip === null) return { tone: "none", words: "Nothing tripped" };
  if (wire.pastInsulation !== null) return { tone: "endangered", words: "Fire hazard" };
  if (meltedBefore(fuse)) return { tone: "close", words: "Melted before the trip" };
  if (fuse?.melted != null && fuse.ableToBreak === false) return { tone: "endangered", words: "The fuse may burst" };
  if (scr?.failed != null) return { tone: "endangered", words: "SCR destroyed" };
  if (fuse?.open != null) {
    if (fuse.ableToBreak !== true) return { tone: "close", words: "Breaking capacity unknown" };
    if (scr !== null && scr.peakTemperature > scr.rated)
      return { tone: "close", words: "The fuse clears it, the SCR is too hot" };
    // At the battery's terminal more may flow than the trip ever draws.
    return fuse.breaks !== null && (fuse.deadShort ?? 0) > fuse.breaks
      ? { tone: "close", words: "The fuse clears this, not a dead short" }
      : { tone: "safe", words: "The fuse clears it" };
  }
  return { tone: "withstood", words: "Nothing opens" };
}

/** Whether the fuse had melted before anything tripped: by the charging current. */
export function meltedBefore(fuse: PlaceFacts["fuse"]): fuse is NonNullable<PlaceFacts["fuse"]> & { melted: number } {
  return fuse?.melted != null && fuse.melted < 0;
}

/** The course of it in one or two sentences. */
export function courseOf({ trip, fuse, scr, wire, peakCurrent }: PlaceFacts, current: (amperes: number) => string) {
  if (trip === null) return "The crowbar does not fire in this run, so nothing can be compared.";
  if (meltedBefore(fuse))
    return `The ${fuse.label} melts ${inWords(-fuse.melted)} before the trip, by the current that charges the battery. From then on the battery holds the line no longer, and what trips is the charger alone.`;
  const opens =
    fuse === null
      ? `Nothing opens this path: ${current(peakCurrent)} come out of the battery.`
      : fuse.melted === null
        ? `The ${fuse.label} does not melt, though ${current(peakCurrent)} come out of the battery.`
        : `${current(peakCurrent)} come out of the battery; the ${fuse.label} melts ${inWords(fuse.melted)} after the trip${fuse.open === null ? " and does not open" : ""}.`;
  const ends = scr?.failed == null ? "" : ` The SCR ends as a short circuit ${inWords(scr.failed)} after the trip.`;
  if (wire.pastInsulation === null) return `${opens}${ends}${clears(fuse, current)}`;
  const melts =
    wire.copperMelts === null ? "" : ` and its copper melts after ${inWords(wire.copperMelts)} if nobody comes`;
  return `${opens}${ends} The wire passes what its insulation stands after ${inWords(wire.pastInsulation)}${melts}.`;
}

/** A fuse that cleared what it met here has not shown that it clears the worst, nor that its class is able to clear this. */
function clears(fuse: PlaceFacts["fuse"], current: (amperes: number) => string): string {
  if (fuse?.open == null) return "";
  if (fuse.ableToBreak === false)
    return " The run lets it open, but what it faces is more than it is able to break: it may burst or go on burning.";
  if (fuse.ableToBreak === null)
    return ` The run lets it open, but nobody published for direct current what it is able to break: the ${current(fuse.carried)} found here may be too much.`;
  const worst =
    fuse.deadShort === null
      ? ""
      : `; a dead short at the battery’s terminal is another matter: up to ${current(fuse.deadShort)}`;
  return ` What it clears is the ${current(fuse.carried)} found here${worst}.`;
}
