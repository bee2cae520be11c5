import type { Leapt, Run } from "../model/result.ts";
import type { Trace } from "../trace/types.ts";
import { zeroOf } from "../verdict/when.ts";

/** Where rounds lie closer than this share of the run's length, no picture tells one from the next. */
const SHARE = 1 / 3000;
/** The same as a share of the time since the fault, for a logarithmic axis. */
const SHARE_SINCE = 1 / 300;
/** Rounds up to so many times as long show no more than their extremes. */
const SHAPELESS = 3;

/**
 * The voltages of a run as a picture shows them, also over rounds that were leapt over: each of these is as the one before, so the last that was
 * integrated stands for all of them. Of rounds too short for a picture to show their shape only the extremes are there, of rounds closer than it can tell those of one for several. For pictures
 * of voltages alone: what drifts from round to round, a temperature for instance, does not follow from one.
 *
 * @param run that may have leapt, with waveforms
 * @returns the trace of its columns in volts; the run's own trace where nothing was leapt over
 * @example leaptVoltages(run).columns.map(({ name }) => name) // ["radio_V", …]
 */
export function leaptVoltages(run: Run): Trace {
  const { trace, repetition, scenario } = run;
  if (repetition.leaps.length === 0) return trace;
  const columns = trace.columns.filter(({ unit }) => unit === "V");
  const values = columns.map((column) => column.values);
  const time: number[] = [];
  const rows: number[] = [];
  const add = (row: number, at: number): void => {
    // Rounds that are put end to end may overlap in the last digit.
    time.push(Math.max(at, time[time.length - 1] ?? at));
    rows.push(row);
  };
  let next = 0;
  for (const leap of repetition.leaps) {
    for (; next < trace.time.length && trace.time[next] <= leap.from; next++) add(next, trace.time[next]);
    const round = roundBefore(trace, leap, next);
    if (round !== null) repeat(round, leap, values, scenario.endTime, zeroOf(scenario), add);
  }
  for (; next < trace.time.length; next++) add(next, trace.time[next]);
  return {
    ...trace,
    time: Float64Array.from(time),
    columns: columns.map((column) => ({ ...column, values: Float64Array.from(rows, (row) => column.values[row]) })),
  };
}

/** Rows of one round: when each comes, as a share of it. */
interface Round {
  readonly rows: readonly number[];
  readonly offsets: readonly number[];
}

/** The last one that was integrated; null where no row of it was kept. */
function roundBefore({ time, columns, thinned }: Trace, { from, period }: Leapt, end: number): Round | null {
  let first = end;
  while (first > 0 && time[first - 1] > from - period) first -= 1;
  // In a thinned recording rounds share their extremes with those before them, which are alike.
  if (thinned !== undefined) first = Math.max(0, Math.min(first, end - 4 * columns.length));
  if (first === end) return null;
  const rows = Array.from({ length: end - first }, (_, k) => first + k);
  const begin = Math.min(from - period, time[first]);
  return { rows, offsets: rows.map((row) => (time[row] - begin) / (from - begin)) };
}

function repeat(
  { rows, offsets }: Round,
  { from, to, rounds }: Leapt,
  values: readonly Float64Array[],
  endTime: number,
  zero: number,
  add: (row: number, at: number) => void,
): void {
  const length = (to - from) / rounds;
  const extremes = extremesOf(rows, values);
  for (let done = 0; done < rounds; ) {
    const start = from + done * length;
    const told = Math.min(SHARE * endTime, SHARE_SINCE * (start - zero));
    const count = Math.min(rounds - done, Math.max(1, Math.floor(told / length)));
    for (const k of length < SHAPELESS * told ? extremes : rows.keys())
      add(rows[k], Math.min(to, start + offsets[k] * count * length));
    done += count;
  }
}

/** Places of the lowest and the highest value of each column, rising. */
function extremesOf(rows: readonly number[], values: readonly Float64Array[]): readonly number[] {
  const places = values.flatMap((column) => {
    const own = rows.map((row) => column[row]);
    return [own.indexOf(Math.min(...own)), own.indexOf(Math.max(...own))];
  });
  return [...new Set(places)].sort((a, b) => a - b);
}
