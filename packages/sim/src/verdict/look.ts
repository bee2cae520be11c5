import { columnName } from "../model/readings.ts";
import type { Run } from "../model/result.ts";

/** Terminal voltage of a load at the end of the run, V. */
export function lastLoadVoltage(run: Run, load: string): number | null {
  return atEnd(run, load, "V");
}

/** Current of a part at the end of the run, A, by its name in the trace: a crowbar's, or that in the lead of a source or load. */
export function lastCurrent(run: Run, name: string): number | null {
  return atEnd(run, name, "A");
}

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
