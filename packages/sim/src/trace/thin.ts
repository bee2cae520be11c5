import type { Trace } from "./types.ts";

/** Columns in front of the values of a row: its time, s, and which row it was before any thinning. */
export const HEAD = 2;

/** Rows one behind the other in one array: HEAD, then one value a column. */
export interface Rows {
  readonly count: number;
  readonly columns: number;
  readonly store: Float64Array;
}

export interface Kept {
  /** Rising. */
  readonly rows: readonly number[];
  /** Whether both rows of every event are among them. */
  readonly everyEvent: boolean;
}

/** Refuses a bound that has no room for the extremes of so many columns. */
export function checkMost(most: number, columns: number): void {
  const least = Math.max(LEAST, 4 * columns + 8);
  if (!Number.isInteger(most) || most < least)
    throw new RangeError(`the rows kept must be a whole number of at least ${least}, received ${most}`);
}

/** Fewer rows than this cannot keep the extremes of anything. */
const LEAST = 64;

/**
 * Which rows of a recording are kept when there are to be at most so many: the first and the last, both rows of every event (they have one
 * time), and of each of many equal stretches the rows of the lowest and of the highest value of every column. So every extremum stays, at its own
 * time, beside the values that belong to it; nothing is averaged. Events give way to the bound only where they would fill half of it.
 *
 * @param most a whole number of at least 64, and of eight more than four a column
 * @throws RangeError when `most` is smaller
 */
export function keptRows(rows: Rows, most: number): Kept {
  checkMost(most, rows.columns);
  const { count, store } = rows;
  const width = rows.columns + HEAD;
  if (count <= most) return { rows: Array.from({ length: count }, (_, row) => row), everyEvent: true };
  const must = new Uint8Array(count);
  let events = 0;
  for (let row = 1; row < count; row++) {
    if (store[row * width] !== store[(row - 1) * width]) continue;
    for (const each of [row - 1, row]) {
      events += 1 - must[each];
      must[each] = 1;
    }
  }
  const everyEvent = events <= most / 2;
  if (!everyEvent) must.fill(0);
  must[0] = 1;
  must[count - 1] = 1;
  const room = most - 2 - (everyEvent ? events : 0);
  // At worst each column has extremes of its own; mostly they share rows, so a finer cut is tried as long as it fits.
  let stretches = Math.max(1, Math.floor(room / (2 * rows.columns)));
  let best = marked(rows, must, stretches);
  for (let attempt = 0; attempt < 2; attempt++) {
    stretches = Math.floor(stretches * Math.max(1.1, 0.95 * (most / sum(best))));
    const finer = marked(rows, must, stretches);
    if (sum(finer) > most) break;
    best = finer;
  }
  const kept: number[] = [];
  for (let row = 0; row < count; row++) if (best[row] === 1) kept.push(row);
  return { rows: kept, everyEvent };
}

function marked({ count, columns, store }: Rows, must: Uint8Array, stretches: number): Uint8Array {
  const width = columns + HEAD;
  const origin = (row: number): number => store[row * width + 1];
  const marks = must.slice();
  const first = origin(0);
  const span = origin(count - 1) - first + 1;
  const low = new Int32Array(columns);
  const high = new Int32Array(columns);
  const lowest = new Float64Array(columns);
  const highest = new Float64Array(columns);
  for (let from = 0; from < count; ) {
    const stretch = Math.floor(((origin(from) - first) / span) * stretches);
    const bound = first + ((stretch + 1) * span) / stretches;
    low.fill(from);
    high.fill(from);
    for (let c = 0; c < columns; c++) lowest[c] = highest[c] = store[from * width + HEAD + c];
    let to = from + 1;
    for (; to < count && origin(to) < bound; to++) {
      const at = to * width + HEAD;
      for (let c = 0; c < columns; c++) {
        const value = store[at + c];
        if (value < lowest[c]) {
          lowest[c] = value;
          low[c] = to;
        } else if (value > highest[c]) {
          highest[c] = value;
          high[c] = to;
        }
      }
    }
    for (let c = 0; c < columns; c++) {
      marks[low[c]] = 1;
      marks[high[c]] = 1;
    }
    from = to;
  }
  return marks;
}

function sum(marks: Uint8Array): number {
  let total = 0;
  for (const mark of marks) total += mark;
  return total;
}

/**
 * A shorter recording that draws the same picture: at most so many rows, each of them one that was there, with every extremum of every column.
 * What is left of it tells no longer how long something lasted between two rows; `thinned` says so.
 *
 * @param trace of a run
 * @param most rows, a whole number of at least 64, and of eight more than four a column
 * @returns the trace itself where it has no more rows than that
 * @throws RangeError when `most` is smaller and rows would have to go
 * @example thinTrace(run.trace, 60_000).time.length // ≤ 60 000
 */
export function thinTrace(trace: Trace, most: number): Trace {
  const { time, columns } = trace;
  const count = time.length;
  if (count <= most) return trace;
  const width = columns.length + HEAD;
  const store = new Float64Array(count * width);
  for (let row = 0; row < count; row++) {
    store[row * width] = time[row];
    store[row * width + 1] = row;
    for (let c = 0; c < columns.length; c++) store[row * width + HEAD + c] = columns[c].values[row];
  }
  const kept = keptRows({ count, columns: columns.length, store }, most);
  const pick = (values: Float64Array): Float64Array => Float64Array.from(kept.rows, (row) => values[row]);
  return {
    time: pick(time),
    columns: columns.map((column) => ({ ...column, values: pick(column.values) })),
    thinned: {
      from: trace.thinned?.from ?? count,
      everyEvent: kept.everyEvent && (trace.thinned?.everyEvent ?? true),
    },
  };
}
