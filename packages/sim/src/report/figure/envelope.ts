import type { Stretch } from "./curve.ts";

/** Where a curve swings faster than pixels can tell: its lowest and highest value along the axis. */
export interface Envelope {
  readonly x: readonly number[];
  readonly low: readonly number[];
  readonly high: readonly number[];
}

export interface Separated {
  readonly lines: readonly Stretch[];
  readonly envelopes: readonly Envelope[];
}

const columnWidth = 3;
/** A swing counts when it covers this share of the panel. */
const wideSwing = 0.2;
const swingsPerColumn = 2;
const fewestColumns = 4;

interface Column {
  readonly first: number;
  readonly last: number;
  readonly dense: boolean;
}

/**
 * Splits a sampled curve into what can be drawn as a line and what would be a block of colour. `wholeSwing` is the
 * panel's whole extent in the curve's unit.
 */
export function separate(parts: readonly Stretch[], wholeSwing: number): Separated {
  const lines: Stretch[] = [];
  const envelopes: Envelope[] = [];
  for (const part of parts) {
    for (const run of runsOf(columnsOf(part, wideSwing * wholeSwing))) {
      if (run.dense) envelopes.push(envelopeOf(part, run.columns));
      else lines.push(sliceOf(part, run.columns));
    }
  }
  return { lines, envelopes };
}

function columnsOf(part: Stretch, swing: number): Column[] {
  const columns: Column[] = [];
  for (let first = 0; first < part.x.length; ) {
    let last = first;
    while (last + 1 < part.x.length && part.x[last + 1] < part.x[first] + columnWidth) last++;
    columns.push({ first, last, dense: swingsWithin(part.values, first, last, swing) >= swingsPerColumn });
    first = last + 1;
  }
  return columns;
}

/** How often the curve turns back by more than `swing` between two points. */
function swingsWithin(values: Float64Array, first: number, last: number, swing: number): number {
  let count = 0;
  let direction = 0;
  let turning = values[first];
  for (let i = first + 1; i <= last; i++) {
    const step = values[i] - turning;
    if (direction * step > 0) turning = values[i];
    else if (Math.abs(step) > swing) {
      count++;
      direction = Math.sign(step);
      turning = values[i];
    }
  }
  return count;
}

function runsOf(columns: readonly Column[]): { dense: boolean; columns: Column[] }[] {
  const runs: { dense: boolean; columns: Column[] }[] = [];
  for (const column of columns) {
    const run = runs[runs.length - 1];
    if (run?.dense === column.dense) run.columns.push(column);
    else runs.push({ dense: column.dense, columns: [column] });
  }
  // A few dense columns still make a readable line (a single steep spike).
  const settled: typeof runs = [];
  for (const run of runs) {
    const dense = run.dense && run.columns.length >= fewestColumns;
    const previous = settled[settled.length - 1];
    if (previous && previous.dense === dense) previous.columns.push(...run.columns);
    else settled.push({ dense, columns: run.columns });
  }
  return settled;
}

function envelopeOf(part: Stretch, columns: readonly Column[]): Envelope {
  const x: number[] = [];
  const low: number[] = [];
  const high: number[] = [];
  for (const { first, last } of columns) {
    const values = part.values.subarray(first, last + 1);
    for (const edge of [part.x[first], part.x[last]]) {
      x.push(edge);
      low.push(Math.min(...values));
      high.push(Math.max(...values));
    }
  }
  return { x, low, high };
}

/** A line reaches one point into its neighbours, so that nothing breaks. */
function sliceOf(part: Stretch, columns: readonly Column[]): Stretch {
  const first = Math.max(0, columns[0].first - 1);
  const end = columns[columns.length - 1].last + 2;
  return { x: part.x.subarray(first, end), values: part.values.subarray(first, end) };
}
