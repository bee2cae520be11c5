import type { Run, Starved } from "@railfault/sim";
import type { Answer } from "../../run/protocol.ts";

/** What hangs on a line that is tripped again and again sees of it. Times in s. */
export interface Dips {
  readonly period: number;
  /** Trips in the run. */
  readonly count: number;
  /** Of the load that goes without for longest. */
  readonly load: string;
  readonly longestWithout: number;
  /** On average over the full rounds, from the first trip to the last, at or above its minimum. */
  readonly fedEachRound: number;
  /** Largest voltage in the last full round, V; null where no round was full. */
  readonly peak: number | null;
  /** Smallest voltage at which it works, V. */
  readonly minimum: number;
}

const HOUR = 3600;

/** Null where nothing trips again and again. */
export function dipsOf({ run, verdict }: Answer): Dips | null {
  if (verdict.kind !== "verdict") return null;
  const found = verdict.tripping.find(({ ended }) => !ended);
  if (found === undefined) return null;
  const hungry = verdict.loads.filter(({ starved }) => starved !== null);
  const worst = hungry.toSorted((a, b) => (b.starved?.longest ?? 0) - (a.starved?.longest ?? 0))[0];
  if (worst?.starved == null) return null;
  return {
    period: found.period,
    count: found.count,
    load: worst.name,
    longestWithout: worst.starved.longest,
    fedEachRound: fedEachRound(run, worst.starved),
    minimum: worst.minimum,
    peak: run.loads.find(({ name }) => name === worst.name)?.peakPerCycle.at(-1) ?? null,
  };
}

/** What came before the first trip, a voltage that rose for seconds, belongs to no round, nor does what came after the last. */
function fedEachRound(run: Run, { total, longest }: Starved): number {
  const trips = [
    run.crowbar?.firings,
    run.seriesSwitch?.starts,
    ...run.ownCrowbars.map(({ findings }) => findings.firings),
  ]
    .filter((each) => each !== undefined)
    .toSorted((a, b) => b.length - a.length)[0];
  const rounds = trips.length - 1;
  const [first, last] = [trips[0], trips[rounds]];
  // After the last trip it goes without until the run ends, or for as long as after the others.
  const tail = Math.min(run.scenario.endTime - last, longest);
  return Math.max(0, last - first - Math.max(0, total - tail)) / rounds;
}

/** Trips within a time, s, at the rhythm of the last round. */
export function tripsIn(dips: Dips, time: number): number {
  return Math.floor(time / dips.period);
}

export const anHour = HOUR;
