import { bisector } from "d3";
import { minMaxSample } from "../../trace/sample.ts";
import type { TimeAxis } from "./time-axis.ts";

/** One unbroken stretch of a curve: pixels along the axis, values in their own unit. */
export interface Stretch {
  readonly x: Float64Array;
  readonly values: Float64Array;
}

const byValue = bisector((value: number) => value);

/** The curve over each segment of the axis, cut at its ends, at most four points per pixel column. */
export function stretches(axis: TimeAxis, time: Float64Array, values: Float64Array): Stretch[] {
  return axis.segments
    .map((segment) => cut(time, values, segment.from, segment.to))
    .filter((part) => part.time.length > 1)
    .map((part) => {
      const x = Float64Array.from(part.time, (t) => axis.position(t));
      const columns = Math.max(1, Math.ceil(x[x.length - 1] - x[0]));
      const sampled = minMaxSample(x, part.values, columns);
      return { x: sampled.positions, values: sampled.values };
    });
}

/** The part of a curve between two times; its ends are interpolated. */
function cut(time: Float64Array, values: Float64Array, from: number, to: number) {
  const first = byValue.left(time, from);
  // The instant of the cut itself may stand twice, before and after an event: a stretch ends with the state before it.
  const end = Math.max(first, to < time[time.length - 1] ? byValue.left(time, to) : time.length);
  const cutTime = Array.from(time.subarray(first, end));
  const cutValues = Array.from(values.subarray(first, end));
  if (first > 0 && first < time.length && (cutTime.length === 0 || cutTime[0] > from)) {
    cutTime.unshift(from);
    cutValues.unshift(between(time, values, first, from));
  }
  if (end > 0 && end < time.length) {
    cutTime.push(to);
    cutValues.push(between(time, values, end, to));
  }
  return { time: cutTime, values: cutValues };
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
