import { columnName } from "../model/readings.ts";
import type { Run, Subject } from "../model/result.ts";

/** A column of the trace by its name and unit; null where the run did not record it. */
function column(run: Run, name: string, unit: string): Float64Array | null {
  const full = columnName(name, unit);
  return run.trace.columns.find((each) => each.name === full)?.values ?? null;
}

/** The same where it is to tell what was between its rows: null where rows were left out, or rounds leapt over. */
function wholeColumn(run: Run, name: string, unit: string): Float64Array | null {
  const whole = run.trace.thinned === undefined && run.repetition.leaps.length === 0;
  return whole ? column(run, name, unit) : null;
}

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
 * How long |current| of a source's or load's lead was above a level, s: the sum over the recorded rows whose both ends are above.
 * Null where the trace does not hold the current.
 */
export function timeAboveCurrent(run: Run, owner: string, level: number): number | null {
  const values = wholeColumn(run, owner, "A");
  if (values === null) return null;
  const { time } = run.trace;
  let sum = 0;
  for (let row = 1; row < time.length; row++) {
    const both = Math.min(Math.abs(values[row - 1]), Math.abs(values[row]));
    if (both > level) sum += time[row] - time[row - 1];
  }
  return sum;
}

/**
 * Most time that |current| of a part was above a level within any stretch of `window` seconds, s; between two rows it runs on a straight
 * line, and at rest it stays. Null where the trace does not hold the current.
 */
export function mostTimeAbove(run: Run, name: string, level: number, window: number): number | null {
  const values = wholeColumn(run, name, "A");
  if (values === null) return null;
  const spans = spansAbove(run, values, level);
  // The fullest window begins where a span does.
  return spans.reduce((most, [from], index) => {
    let sum = 0;
    for (let each = index; each < spans.length && spans[each][0] < from + window; each++)
      sum += Math.min(spans[each][1], from + window) - spans[each][0];
    return Math.max(most, sum);
  }, 0);
}

function spansAbove(run: Run, values: Float64Array, level: number): [number, number][] {
  const time = [...run.trace.time, endOf(run)];
  const size = [...values, values.at(-1) ?? 0].map(Math.abs);
  const spans: [number, number][] = [];
  for (let row = 1; row < time.length; row++) {
    const [a, b] = [size[row - 1], size[row]];
    if (a <= level && b <= level) continue;
    const crossing = time[row - 1] + ((level - a) / (b - a)) * (time[row] - time[row - 1]);
    const from = a > level ? time[row - 1] : crossing;
    const to = b > level ? time[row] : crossing;
    const last = spans.at(-1);
    if (last !== undefined && last[1] === from) last[1] = to;
    else spans.push([from, to]);
  }
  return spans;
}

/** Largest voltage across a fuse after a time, V; null where the trace does not hold it. */
export function fuseVoltageAfter(run: Run, fuse: Subject, time: number): number | null {
  return largestBetween(run, fuse.part === "main fuse" ? "main fuse" : `${fuse.owner} fuse`, [
    [time, Number.POSITIVE_INFINITY],
  ]);
}

/** Largest voltage across the series switch while it was open, V; null where the trace does not hold it. */
export function openSwitchVoltage(run: Run): number | null {
  const { opens = [], recloses = [] } = run.seriesSwitch ?? {};
  const spans = opens.map((open) => [open, recloses.find((time) => time >= open) ?? Number.POSITIVE_INFINITY] as const);
  return largestBetween(run, "series switch", spans);
}

function largestBetween(run: Run, name: string, spans: readonly (readonly [number, number])[]): number | null {
  const values = wholeColumn(run, name, "V");
  if (values === null) return null;
  let largest = 0;
  // The rows at the ends of a span may show the state on its other side.
  run.trace.time.forEach((at, row) => {
    if (spans.some(([from, to]) => at > from && at < to)) largest = Math.max(largest, values[row]);
  });
  return largest;
}

/** Last time that the run speaks of, s: totals of a run that came to rest are continued to its end time. */
export function endOf(run: Run): number {
  return run.outcome.status === "at rest" ? run.scenario.endTime : run.outcome.time;
}
