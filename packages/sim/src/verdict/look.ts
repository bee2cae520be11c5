import type { Run } from "../model/result.ts";

/** A column of the trace by its name; null where the run did not record it. */
function column(run: Run, name: string): Float64Array | null {
  return run.trace.columns.find((each) => each.name === name)?.values ?? null;
}

const last = (values: Float64Array | null): number | null => values?.at(-1) ?? null;

/** Terminal voltage of a load at the end of the run, V. */
export function lastLoadVoltage(run: Run, load: string): number | null {
  return last(column(run, `${load}_V`));
}

/** Current through the crowbar at the end of the run, A. */
export function lastCrowbarCurrent(run: Run): number | null {
  return last(column(run, "crowbar_A"));
}

/** First time at which the crowbar's junction stood above a temperature (°C), s; null where never or not recorded. */
export function junctionPasses(run: Run, limit: number): number | null {
  const values = column(run, "junction_degC");
  const index = values?.findIndex((value) => value > limit) ?? -1;
  return index < 0 ? null : (run.trace.time[index] ?? null);
}

/**
 * How long |current| of a source's or load's lead was above a level, s: the sum over the recorded rows whose both ends are above.
 * Null where the trace does not hold the current.
 */
export function timeAboveCurrent(run: Run, owner: string, level: number): number | null {
  const values = column(run, `${owner}_A`);
  if (values === null) return null;
  const { time } = run.trace;
  let sum = 0;
  for (let row = 1; row < time.length; row++) {
    const both = Math.min(Math.abs(values[row - 1] ?? 0), Math.abs(values[row] ?? 0));
    if (both > level) sum += (time[row] ?? 0) - (time[row - 1] ?? 0);
  }
  return sum;
}

/** Largest voltage across the main fuse from a time on, V; null where the trace does not hold both sides. */
export function voltageAcrossMainFuse(run: Run, from: number): number | null {
  const supply = column(run, "supply side_V");
  const guarded = column(run, "protected side_V");
  if (supply === null || guarded === null) return null;
  let largest = 0;
  run.trace.time.forEach((time, row) => {
    if (time >= from) largest = Math.max(largest, Math.abs((supply[row] ?? 0) - (guarded[row] ?? 0)));
  });
  return largest;
}

/** Last time that the run speaks of, s: totals of a run that came to rest are continued to its end time. */
export function endOf(run: Run): number {
  return run.outcome.status === "at rest" ? run.scenario.endTime : run.outcome.time;
}
