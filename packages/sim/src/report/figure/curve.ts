import { firstNotBefore } from "../../trace/place.ts";
import type { TimeAxis } from "./time-axis.ts";

/** One unbroken stretch of a curve: pixels along the axis, values in their own unit. */
export interface Stretch {
  readonly x: Float64Array;
  readonly values: Float64Array;
}

/** The curve over each segment of the axis, cut at its ends, at most four points per pixel column. */
export function stretches(axis: TimeAxis, time: Float64Array, values: Float64Array): Stretch[] {
  return axis.segments.map((segment) => sampled(axis, time, values, segment)).filter((part) => part.x.length > 1);
}

interface Segment {
  readonly from: number;
  readonly to: number;
}

/**
 * Per pixel column the first, the lowest, the highest and the last point, in their own order. Columns are told apart by times, so
 * that of tens of thousands of rows only those that are drawn need a position on the axis.
 */
function sampled(axis: TimeAxis, time: Float64Array, values: Float64Array, { from, to }: Segment): Stretch {
  const first = firstNotBefore(time, from);
  // The instant of the cut itself may stand twice, before and after an event: a stretch ends with the state before it.
  const end = Math.max(first, to < time[time.length - 1] ? firstNotBefore(time, to) : time.length);
  const kept = new Points(axis);
  if (first > 0 && first < time.length && (first === end || time[first] > from)) {
    kept.add(from, between(time, values, first, from));
  }
  const left = axis.position(from);
  const columns = Math.max(1, Math.ceil(axis.position(to) - left));
  if (end - first <= 4 * columns) {
    for (let i = first; i < end; i++) kept.add(time[i], values[i]);
  } else {
    for (let i = first, column = 0; i < end; ) {
      column = Math.max(column + 1, Math.floor(axis.position(time[i]) - left) + 1);
      i = kept.addColumn(time, values, i, end, column < columns ? axis.invert(left + column) : Infinity);
    }
  }
  if (end > 0 && end < time.length) kept.add(to, between(time, values, end, to));
  return kept.stretch();
}

class Points {
  private readonly x: number[] = [];
  private readonly values: number[] = [];

  constructor(private readonly axis: TimeAxis) {}

  add(time: number, value: number): void {
    this.x.push(this.axis.position(time));
    this.values.push(value);
  }

  /** Takes what matters of the rows before a time; gives the row after them. */
  addColumn(time: Float64Array, values: Float64Array, first: number, end: number, before: number): number {
    let lowest = first;
    let highest = first;
    let last = first;
    for (let i = first + 1; i < end && time[i] < before; i++) {
      if (values[i] < values[lowest]) lowest = i;
      if (values[i] > values[highest]) highest = i;
      last = i;
    }
    let previous = -1;
    for (const row of [first, Math.min(lowest, highest), Math.max(lowest, highest), last]) {
      if (row > previous) this.add(time[row], values[row]);
      previous = row;
    }
    return last + 1;
  }

  stretch(): Stretch {
    return { x: Float64Array.from(this.x), values: Float64Array.from(this.values) };
  }
}

function between(time: Float64Array, values: Float64Array, right: number, at: number): number {
  const span = time[right] - time[right - 1];
  if (!(span > 0)) return values[right - 1];
  return values[right - 1] + ((at - time[right - 1]) / span) * (values[right] - values[right - 1]);
}

/** Lowest and highest value over what the axis shows. */
export function valueExtent(parts: readonly Stretch[]): readonly [number, number] {
  let lowest = Infinity;
  let highest = -Infinity;
  for (const part of parts) {
    for (const value of part.values) {
      if (value < lowest) lowest = value;
      if (value > highest) highest = value;
    }
  }
  return [lowest, highest];
}

/** The same stretch with a point at each crossing of `level`, so that an area above it begins where the curve does. */
export function withCrossings(part: Stretch, level: number): Stretch {
  const x: number[] = [];
  const values: number[] = [];
  for (let i = 0; i < part.x.length; i++) {
    const before = part.values[i - 1] - level;
    const after = part.values[i] - level;
    if (i > 0 && before * after < 0) {
      x.push(part.x[i - 1] + (before / (before - after)) * (part.x[i] - part.x[i - 1]));
      values.push(level);
    }
    x.push(part.x[i]);
    values.push(part.values[i]);
  }
  return { x: Float64Array.from(x), values: Float64Array.from(values) };
}
