import { columnName } from "../model/readings.ts";
import type { Run } from "../model/result.ts";

/** Terminal voltage of a load at the end of the run, V; its mean where the line ripples. */
export function lastLoadVoltage(run: Run, load: string): number | null {
  return meanAtEnd(run, load, "V");
}

/**
 * Current of a part at the end of the run, A, by its name in the trace: a crowbar's, or that in the lead of a source or load; its mean where the
 * line ripples.
 */
export function lastCurrent(run: Run, name: string): number | null {
  return meanAtEnd(run, name, "A");
}

/** The same as what heats a conductor: the root of the mean square, A, without a sign. */
export function heatingCurrent(run: Run, name: string): number | null {
  const last = run.ripple?.rms[columnName(name, "A")] ?? atEnd(run, name, "A");
  return last === null ? null : Math.abs(last);
}

const meanAtEnd = (run: Run, name: string, unit: string): number | null =>
  run.ripple?.mean[columnName(name, unit)] ?? atEnd(run, name, unit);

/** What a column of the trace shows at the end of the run, by name and unit; null where the line has no such column. */
export function atEnd(run: Run, name: string, unit: string): number | null {
  return run.atEnd[columnName(name, unit)] ?? null;
}

/**
 * Last time that a run speaks of, s: totals of one that came to rest are continued from there to its end time, those of one that failed or was
 * stopped end where it did.
 *
 * @example endOf(simulate(scenario)) // scenario.endTime, unless it failed or was stopped
 */
export function endOf(run: Run): number {
  return run.outcome.status === "at rest" ? run.scenario.endTime : run.outcome.time;
}
