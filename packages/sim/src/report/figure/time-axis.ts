import { scaleLinear, ticks } from "d3";
import { repeatedFrom } from "./events.ts";
import { textWidth } from "./text.ts";
import { formatTick, formatTime, timeUnit } from "./time-format.ts";
import type { FigureEvent } from "./types.ts";

/** A place on a time axis with its words. */
export interface TimeTick {
  /** Of the tick itself, CSS pixels. */
  readonly x: number;
  /** Middle of the label: it stays between the ends of the axis. */
  readonly labelX: number;
  /** The time in words: `10 ms`. */
  readonly label: string;
}

/** The time axis that all panels share. Times are s since the start of the run, positions CSS pixels. */
export interface TimeAxis {
  /** `logarithmic` only after the instant from which times count. */
  readonly kind: "linear" | "logarithmic";
  /** First time shown. */
  readonly from: number;
  /** Last time shown. */
  readonly to: number;
  /** Where the first time lies. */
  readonly left: number;
  /** Where the last time lies. */
  readonly right: number;
  /** Monotone; times outside the axis land on its ends, times inside a gap on the gap's end. */
  position(time: number): number;
  /** The inverse of `position` (for brushes). */
  invert(x: number): number;
  /** Stretches of time that are drawn without a break. */
  readonly segments: readonly { readonly from: number; readonly to: number }[];
  /** Where the axis is broken, CSS pixels; null for an unbroken one. */
  readonly gap: { readonly left: number; readonly right: number } | null;
  /** Those with words. */
  readonly ticks: readonly TimeTick[];
  /** Positions of those without. */
  readonly minorTicks: readonly number[];
  /** `Time after fault`. */
  readonly title: string;
}

/** What happens at the instant after which times are counted. */
export type Zero = "fault" | "start" | "trip";

interface Extent {
  readonly from: number;
  readonly to: number;
  readonly left: number;
  readonly right: number;
}

const typeSize = 12;
const gapWidth = 10;
const beforeFault = "before";

/** Of a linear axis, the share below which the first happening cannot be told from the fault. */
const tooEarly = 1 / 300;
const decadesOfInterest = 3;

/**
 * The scale that `auto` means: logarithmic when what happens after the fault spans more than three decades of time, or
 * when it begins so early that a linear axis would hide it. Of repetitions only the first counts and a rhythm asks for
 * equal steps, so repeated tripping stays on a linear axis.
 */
export function chooseTimeScale(
  events: readonly FigureEvent[],
  faultTime: number,
  range: readonly [number, number],
): "linear" | "logarithmic" {
  if (range[0] > faultTime) return "linear";
  const inView = events.filter((e) => e.important && e.time > faultTime && e.time <= range[1]);
  const counts = new Map<string, number>();
  const delays: number[] = [];
  for (const { label, time } of inView) {
    if (!counts.has(label)) delays.push(time - faultTime);
    counts.set(label, (counts.get(label) ?? 0) + 1);
  }
  if (delays.length === 0) return "linear";
  const first = Math.min(...delays);
  const rhythm = Math.max(...counts.values()) >= repeatedFrom;
  const manyDecades = Math.max(...delays) > 10 ** decadesOfInterest * first;
  const hidden = !rhythm && first < tooEarly * (range[1] - range[0]);
  return manyDecades || hidden ? "logarithmic" : "linear";
}

/** A linear axis; its ticks count from the fault, or from a named instant where digits would not suffice. */
export function linearTimeAxis(extent: Extent, faultTime: number, zero: Zero = "fault"): TimeAxis {
  const { from, to, left, right } = extent;
  const scale = scaleLinear([from, to], [left, right]).clamp(true);
  const labels = linearTicks(extent, faultTime, zero);
  return {
    kind: "linear",
    ...extent,
    position: (time) => scale(time),
    invert: (x) => scale.invert(x),
    segments: [{ from, to }],
    gap: null,
    ticks: labelled(
      labels.ticks.map(({ time, label }) => ({ x: scale(time), label })),
      left,
      right,
    ),
    minorTicks: [],
    title: labels.title,
  };
}

function linearTicks(extent: Extent, faultTime: number, zero: Zero) {
  const { from, to, left, right } = extent;
  const most = Math.max(2, Math.floor((right - left) / 90));
  const reach = Math.max(Math.abs(from - faultTime), Math.abs(to - faultTime));
  const tooManyDigits = reach > 2e4 * (to - from);
  const origin = tooManyDigits ? from : faultTime;
  const unit = timeUnit(tooManyDigits ? to - from : reach);
  const inUnits = ticks((from - origin) / unit.seconds, (to - origin) / unit.seconds, most);
  const step = inUnits.length > 1 ? (inUnits[1] - inUnits[0]) * unit.seconds : unit.seconds;
  return {
    ticks: inUnits.map((value) => ({
      time: origin + value * unit.seconds,
      label: formatTick(value * unit.seconds, unit, step),
    })),
    title: tooManyDigits ? `Time from ${formatTime(from - faultTime, 7)} on` : `Time after ${zero}`,
  };
}

/**
 * Time after the fault on a logarithmic scale, the time before it as a short lead-in left of a gap.
 * The first decade shown is the one in which something happens; what lies between it and the fault is the gap. A number
 * instead of events is the delay after the fault at which that decade begins, s. A lead-in that takes a share of its own of
 * the width has its own ticks: hours before a trip and microseconds after it stand side by side.
 */
export function logarithmicTimeAxis(
  extent: Extent,
  faultTime: number,
  events: readonly FigureEvent[] | number,
  zero: Zero = "fault",
  leadShare: number | null = null,
): TimeAxis {
  const { from, to, left, right } = extent;
  if (to <= faultTime) return linearTimeAxis(extent, faultTime, zero);
  const leadIn = from < faultTime;
  const shortest = leadIn ? shortestShown(events, faultTime, to) : Math.max(from - faultTime, (to - faultTime) * 1e-9);
  const leadEnd = leadIn ? left + leadWidth(right - left, leadShare) : left;
  const start = leadIn ? leadEnd + gapWidth : left;
  const perNeper = (right - start) / Math.log((to - faultTime) / shortest);
  const after = (delay: number) =>
    start + perNeper * Math.log(Math.min(Math.max(delay, shortest), to - faultTime) / shortest);
  const before = scaleLinear([from, faultTime], [left, leadEnd]).clamp(true);
  const position = (time: number) => (leadIn && time <= faultTime ? before(time) : after(time - faultTime));
  const begin = faultTime + shortest;
  const counted = leadIn && leadShare !== null;
  const hours = counted ? linearTicks({ from, to: faultTime, left, right: leadEnd }, faultTime, zero).ticks : [];
  const lead = hours.filter(({ time }) => time < faultTime).map(({ time, label }) => ({ x: before(time), label }));
  return {
    kind: "logarithmic",
    ...extent,
    position,
    invert: (x) =>
      leadIn && x < start ? before.invert(x) : Math.min(to, faultTime + shortest * Math.exp((x - start) / perNeper)),
    segments: leadIn
      ? [
          { from, to: faultTime },
          { from: begin, to },
        ]
      : [{ from: begin, to }],
    gap: leadIn ? { left: leadEnd, right: start } : null,
    ticks: labelled(
      [...lead, ...logarithmicTicks(shortest, to - faultTime, after, leadIn && !counted ? left : null)],
      left,
      right,
    ),
    minorTicks: minorTicks(shortest, to - faultTime).map(after),
    title: `Time after ${zero}`,
  };
}

function leadWidth(width: number, share: number | null): number {
  return share === null ? Math.min(66, Math.max(36, 0.1 * width)) : share * width;
}

function shortestShown(events: readonly FigureEvent[] | number, faultTime: number, to: number): number {
  return typeof events === "number" ? Math.min(events, (to - faultTime) / 10) : firstDecade(events, faultTime, to);
}

/** Delay after the fault at which a logarithmic axis begins, s: the decade in which something first happens. */
export function firstDecade(events: readonly FigureEvent[], faultTime: number, to: number): number {
  const delays = events.filter((e) => e.important && e.time > faultTime && e.time <= to).map((e) => e.time - faultTime);
  const span = to - faultTime;
  const first = delays.length > 0 ? Math.min(...delays) : span / 1000;
  const decade = 10 ** Math.floor(Math.log10(first / 2) + 1e-9);
  return Math.min(Math.max(decade, 1e-8, span * 1e-10), span / 10);
}

/** Powers of ten of a second below a minute, then the steps of the clock. */
const clockSteps = [60, 600, 3600, 36000, 360000, 3600000];

function decades(shortest: number, longest: number): number[] {
  const first = Math.ceil(Math.log10(shortest) - 1e-9);
  const powers = Array.from({ length: Math.max(0, 2 - first) }, (_, i) => Number(`1e${first + i}`));
  return [...powers, ...clockSteps].filter((delay) => delay >= shortest * 0.999 && delay <= longest * 1.001);
}

function roundDelays(shortest: number, longest: number): number[] {
  const seconds = Array.from({ length: 11 }, (_, i) => i - 9).flatMap((power) =>
    [1, 2, 5].map((d) => Number(`${d}e${power}`)),
  );
  const clock = clockSteps.flatMap((step) => [step, 2 * step, step % 3600 === 0 ? 5 * step : 3 * step]);
  return [...seconds.filter((s) => s < 60), ...clock].filter((delay) => delay >= shortest && delay <= longest);
}

function logarithmicTicks(
  shortest: number,
  longest: number,
  position: (delay: number) => number,
  leadIn: number | null,
): Mark[] {
  const before = leadIn === null ? [] : [{ x: leadIn + textWidth(beforeFault, typeSize) / 2, label: beforeFault }];
  const coarse = decades(shortest, longest);
  // A short axis needs round numbers between the decades.
  const delays = coarse.length < 3 ? roundDelays(shortest, longest) : coarse;
  return [...before, ...delays.map((delay) => ({ x: position(delay), label: formatTime(delay) }))];
}

function minorTicks(shortest: number, longest: number): number[] {
  const result: number[] = [];
  for (let exponent = Math.floor(Math.log10(shortest)); 10 ** exponent < longest; exponent++) {
    for (let digit = 2; digit < 10; digit++) result.push(digit * 10 ** exponent);
  }
  return result.filter((delay) => delay > shortest && delay < longest);
}

interface Mark {
  readonly x: number;
  readonly label: string;
}

function labelled(marks: readonly Mark[], left: number, right: number): TimeTick[] {
  const kept: TimeTick[] = [];
  let end = -Infinity;
  for (const { x, label } of marks) {
    const half = textWidth(label, typeSize) / 2;
    const labelX = Math.min(Math.max(x, left + half), right - half);
    if (labelX - half < end + 8) continue;
    kept.push({ x, labelX, label });
    end = labelX + half;
  }
  return kept;
}
