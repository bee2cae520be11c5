import type { Carried, Leap } from "../../hybrid/rounds-types.ts";
import type { LoggedEvent } from "../../hybrid/types.ts";
import { ExcursionWatch, PeakWatch } from "../../hybrid/watch.ts";
import type { Watcher } from "../../hybrid/watcher.ts";
import { type Vector, zeros } from "../../ode/vector.ts";
import type { Excursion, Peak } from "../../trace/types.ts";
import type { Assembly } from "../assemble.ts";
import { columnName, type Places } from "../readings.ts";
import type { EventKind, Subject } from "../result.ts";

/** A logged event in the line's own words. */
export interface NamedEvent extends LoggedEvent {
  readonly kind: EventKind;
  readonly subject: Subject;
}

/** Rounds that were leapt over, what happens in each in the line's own words. */
export interface NamedLeap extends Omit<Leap, "events"> {
  readonly events: readonly { readonly kind: EventKind; readonly subject: Subject; readonly offset: number }[];
}

/** What every collector of findings is given. */
export interface Kit {
  readonly assembly: Assembly;
  readonly watcher: Watcher;
  readonly places: Places;
  /** The moment, s. */
  readonly time: () => number;
  /** Watches of the largest currents, by probe. */
  readonly currents: Map<number, PeakWatch>;
  /** State of the moment. */
  readonly state: () => Vector;
  readonly onEvent: (listener: (event: NamedEvent) => void) => void;
  /** The listener hears of a leap when the line stands behind it. */
  readonly onLeap: (listener: (leap: NamedLeap) => void) => void;
  /** What leaps have added so far; null where none are made. */
  readonly carried: () => Carried | null;
}

export function watchPeak(kit: Kit, name: string, unit: string, sign: -1 | 0 | 1 = 1, recorded = false): PeakWatch {
  const peak = new PeakWatch(kit.places.probe(columnName(name, unit)), sign, recorded);
  kit.watcher.peaks.push(peak);
  return peak;
}

/** The largest current of a part over the whole run, either way; whoever asks for the same one shares the watch. */
export function watchCurrent(kit: Kit, name: string): PeakWatch {
  const probe = kit.places.probe(columnName(name, "A"));
  const known = kit.currents.get(probe) ?? watchPeak(kit, name, "A", 0);
  kit.currents.set(probe, known);
  return known;
}

export function watchExcursion(kit: Kit, name: string, unit: string, level: number, sign: -1 | 0 | 1): ExcursionWatch {
  const excursion = new ExcursionWatch(kit.places.probe(columnName(name, unit)), level, sign);
  kit.watcher.excursions.push(excursion);
  return excursion;
}

export function peakOf(watch: PeakWatch): Peak {
  return { value: watch.value, time: watch.time };
}

/** Integral of a flow so far, with what was leapt over. */
export function totalOf({ watcher, carried }: Kit, flow: number): number {
  return watcher.totals[flow] + (carried()?.flows[flow] ?? 0);
}

export function excursionOf({ watcher, carried }: Kit, watch: ExcursionWatch): Excursion {
  const { level, total, longest, area } = watch;
  const more = carried()?.excursions[watcher.excursions.indexOf(watch)];
  return {
    level,
    total: total + (more?.total ?? 0),
    longest,
    area: area + (more?.area ?? 0),
  };
}

/** Integral of a probe's square while it is beyond its level, with what was leapt over. */
export function squareBeyond({ watcher, carried }: Kit, watch: ExcursionWatch): number {
  return watch.squared + (carried()?.excursions[watcher.excursions.indexOf(watch)]?.squared ?? 0);
}

/** When something happened in the rounds of a leap, s. */
export function timesIn(leap: NamedLeap, kind: EventKind, { part, owner }: Subject): number[] {
  const own = leap.events.filter((event) => event.kind === kind && isSubject(event.subject, part, owner));
  if (own.length === 0) return [];
  const last = leap.events[leap.events.length - 1].offset;
  return leap.ends.flatMap((end, round) => {
    const start = round === 0 ? leap.from : leap.ends[round - 1];
    // What ends the round ends it exactly; the rest keeps its share of the round's length.
    return own.map(({ offset }) => (offset === last ? end : start + (offset / last) * (end - start)));
  });
}

/** The present value of a probe. */
export function probeNow(kit: Kit, name: string, unit: string): number {
  return probesNow(kit)[kit.places.probe(columnName(name, unit))];
}

/** The present values of all probes. */
export function probesNow(kit: Kit): Vector {
  const out = zeros(kit.assembly.line.probeCount);
  kit.assembly.line.probes(out);
  return out;
}

export function isSubject(subject: Subject, part: Subject["part"], owner = ""): boolean {
  return subject.part === part && subject.owner === owner;
}
