import type { CaptureLayout } from "../types.ts";
import type { Problems } from "./problems.ts";

const DAY = 86_400;
/** Where more than this share of samples has the time of the one before, times are stamps coarser than the samples; below it a jump is told by two rows. */
const SHARED = 0.2;
/** Fewer rows show no habit. */
const LEAST_ROWS = 16;
/** A time of day that goes back has passed midnight where the new one is no further than so many usual steps ahead of the old one. */
const NEXT_DAY = 1000;

/** Times of day without dates, or with a date that stays that of the first, begin anew at midnight: from there on they count on, in place. */
export function pastMidnight(time: Float64Array, { firstLine }: CaptureLayout, problems: Problems): void {
  const midnight = DAY * Math.floor(time[0] / DAY);
  if (time.some((each) => each < midnight || each > midnight + DAY)) return;
  const step = usualStep(time);
  let days = 0;
  let before = Number.NaN;
  let first = -1;
  for (let i = 0; i < time.length; i++) {
    const ofDay = time[i];
    const on = ofDay - before + DAY;
    if (ofDay - before < -DAY / 2 && on <= NEXT_DAY * step) {
      days++;
      if (first < 0) first = i;
    }
    if (!Number.isNaN(ofDay)) before = ofDay;
    time[i] = ofDay + DAY * days;
  }
  if (days > 0)
    problems.add({
      severity: "warning",
      code: "past-midnight",
      message: `The times of day pass midnight ${days === 1 ? "once" : `${days} times`}, first near line ${firstLine + first}; they are taken to go on with the next day.`,
    });
}

/** Whether so many times that repeat the one before are a habit of the recorder. */
export function areStamps(repeated: number, rows: number): boolean {
  return rows >= LEAST_ROWS && repeated > SHARED * rows;
}

/**
 * Several samples of one time, all along: the recorder's clock is coarser than its samples. They are put evenly into the step of its clock, in place.
 *
 * @returns the step of the clock, s, which is how well any instant is known; null where times are not like that
 */
export function spreadStamps(time: Float64Array, problems: Problems): number | null {
  let repeated = 0;
  for (let i = 1; i < time.length; i++) if (time[i] === time[i - 1]) repeated++;
  if (!areStamps(repeated, time.length)) return null;
  const step = usualStep(time);
  for (let first = 0; first < time.length; ) {
    const stamp = time[first];
    let end = first + 1;
    while (end < time.length && time[end] === stamp) end++;
    const room = end < time.length ? Math.min(step, time[end] - stamp) : step;
    for (let i = first + 1; i < end; i++) time[i] = stamp + ((i - first) / (end - first)) * room;
    first = end;
  }
  problems.add({
    severity: "warning",
    code: "coarse-times",
    message: `Samples with the time of the one before: ${repeated}. The times are written in steps of ${String(Number(step.toPrecision(6)))} s, coarser than the samples; samples are put evenly into each, and no instant is known better than to that.`,
  });
  return step;
}

/** Whether steps are alike to half of a written digit: then the digits are a clock's count, not rounded. */
export function isEven(time: Float64Array, digit: number): boolean {
  const step = usualStep(time);
  for (let i = 1; i < time.length; i++) if (Math.abs(time[i] - time[i - 1] - step) > 0.5 * digit) return false;
  return true;
}

export function largestOf(values: Float64Array): number {
  let largest = 0;
  for (const value of values) largest = Math.max(largest, Math.abs(value) || 0);
  return largest;
}

/** The median of the steps forward, s, of at most some ten thousand of them. */
export function usualStep(time: Float64Array): number {
  const every = Math.max(1, Math.floor(time.length / 20_000));
  const steps: number[] = [];
  for (let i = 1; i < time.length; i += every) {
    const step = time[i] - time[i - 1];
    if (step > 0) steps.push(step);
  }
  steps.sort((a, b) => a - b);
  return steps[steps.length >> 1] ?? Number.NaN;
}
