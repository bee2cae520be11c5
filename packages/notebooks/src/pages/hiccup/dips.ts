import type { Answer } from "../../run/protocol.ts";

/** What hangs on a line that is tripped again and again sees of it. Times in s. */
export interface Dips {
  readonly period: number;
  /** Trips in the run. */
  readonly count: number;
  /** Of the load that goes without for longest. */
  readonly load: string;
  readonly longestWithout: number;
  /** On average, between two trips, at or above its minimum. */
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
  const after = run.outcome.time - run.scenario.faultTime;
  return {
    period: found.period,
    count: found.count,
    load: worst.name,
    longestWithout: worst.starved.longest,
    fedEachRound: Math.max(0, after - worst.starved.total) / found.count,
    minimum: worst.minimum,
    peak: run.loads.find(({ name }) => name === worst.name)?.peakPerCycle.at(-1) ?? null,
  };
}

/** Trips within a time, s, at the rhythm of the last round. */
export function tripsIn(dips: Dips, time: number): number {
  return Math.floor(time / dips.period);
}

export const anHour = HOUR;
