import type { Run } from "../src/index.ts";

/** A run as a peer tells it. */
export interface Told {
  readonly events: readonly { readonly time: number; readonly sincePrevious: number; readonly what: string }[];
  readonly integrals: Readonly<Record<string, number>>;
}

/** As closely as two honest implementations can be asked to agree. */
const SHARE = 1e-3;
const LEAST_TIME = 1e-6;

/** Our own run in a peer's words. */
export function toldBy(run: Run): Told {
  const integrals: Record<string, number> = { fed: run.energy.fed, "turned over": run.energy.turnedOver };
  for (const [name, heat] of Object.entries(run.energy.byDevice)) integrals[`heat of ${name}`] = heat;
  for (const { subject, totalI2t } of run.fuses)
    integrals[`I2t of ${subject.part === "main fuse" ? "main fuse" : `${subject.owner} lead`}`] = totalI2t;
  if (run.crowbar) {
    integrals["I2t of crowbar"] = run.crowbar.totalI2t;
    integrals["heat of junction"] = run.crowbar.junctionEnergy;
  }
  return {
    events: run.events.map(({ time, sincePrevious, kind, subject }) => ({
      time,
      sincePrevious,
      what: `${subject.owner}/${subject.part}: ${kind}`,
    })),
    integrals,
  };
}

/**
 * Where two runs of one line tell different stories, in words; null where the events are the same, each within 0.1 % or 1 µs of the time
 * since the one before, and every integral of ours is met within 0.1 %, or 10⁻⁶ of the energy turned over where it is small. Where rounds were
 * leapt over here, whose events nobody listed, those before the first leap and those behind the last are held against theirs, and all integrals.
 */
export function disagreement(ours: Told, theirs: Told): string | null {
  const first = ours.events.findIndex(isLeap);
  const other = first < 0 ? firstUnlike(ours.events, theirs.events) : aroundLeaps(ours.events, theirs.events, first);
  if (other !== null) return other;
  for (const [name, value] of Object.entries(ours.integrals)) {
    const other = theirs.integrals[name];
    if (other === undefined) return `there is no ${name} there`;
    const allowed = SHARE * Math.max(Math.abs(value), Math.abs(other)) + 1e-6 * (ours.integrals["turned over"] ?? 0);
    if (!(Math.abs(value - other) <= allowed)) return `${name} is ${value} here and ${other} there`;
  }
  return null;
}

type Events = Told["events"];

const isLeap = ({ what }: Events[number]): boolean => what.endsWith(": repeats itself");

function aroundLeaps(ours: Events, theirs: Events, first: number): string | null {
  const behind = ours.slice(ours.findLastIndex(isLeap) + 1);
  const last = theirs.slice(theirs.length - behind.length);
  // The first one behind a leap counts from the leap here and from an event there.
  const since = behind.map((event, k) => (k === 0 ? { ...event, sincePrevious: last[0]?.sincePrevious ?? 0 } : event));
  return firstUnlike(ours.slice(0, first), theirs.slice(0, first)) ?? firstUnlike(since, last);
}

function firstUnlike(ours: Events, theirs: Events): string | null {
  const count = Math.max(ours.length, theirs.length);
  for (let k = 0; k < count; k++) {
    const [a, b] = [ours[k], theirs[k]];
    if (a?.what !== b?.what) return `event ${k + 1} is ${a?.what ?? "none"} here and ${b?.what ?? "none"} there`;
    const allowed = Math.max(SHARE * a.sincePrevious, LEAST_TIME);
    if (!(Math.abs(a.sincePrevious - b.sincePrevious) <= allowed))
      return `event ${k + 1} (${a.what}) comes ${a.sincePrevious} s after the one before here and ${b.sincePrevious} s there`;
  }
  return null;
}
