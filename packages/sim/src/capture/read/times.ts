import { counted } from "../../verdict/words.ts";
import type { CaptureLayout } from "../types.ts";
import { isClock } from "./clock.ts";
import { lastDigit } from "./number.ts";
import type { Problems } from "./problems.ts";
import { restartsOf } from "./restarts.ts";
import type { RowReader } from "./rows.ts";
import { areStamps, isEven, largestOf, pastMidnight, spreadStamps, usualStep } from "./stamps.ts";
import type { Store } from "./store.ts";
import { columnUnit } from "./units.ts";

export interface Times {
  readonly time: Float64Array;
  /** Which row stands where, in order of time; null: they stand as they were written. */
  readonly order: Uint32Array | null;
  /** A sample may have been taken anywhere within so much, s. */
  readonly grain: number;
}

/** Of recordings one after the other so many are told with the lines where they begin. */
const TOLD = 3;

/** The time of each sample, s; null where none can be told. */
export function timesOf(layout: CaptureLayout, store: Store, rows: RowReader, problems: Problems): Times | null {
  const { time: column, interval } = layout;
  if (store.rows < 2) {
    problems.add({
      code: "too-few-samples",
      message: "A table of samples needs at least two lines of numbers.",
      received: `${store.rows}`,
      allowed: "2 or more",
    });
    return null;
  }
  if (column === null) {
    if (interval !== null && interval > 0 && Number.isFinite(interval))
      return { time: Float64Array.from({ length: store.rows }, (_, row) => row * interval), order: null, grain: 0 };
    problems.add({
      code: "no-time",
      message:
        layout.columns === 1
          ? "There is one column only, and no sample interval."
          : "No column holds the time, and nothing tells the sample interval.",
      received: interval === null ? null : String(interval),
      allowed: "a column of rising times, or a sample interval",
      hint: "say which column holds the time (--time 1), or how far samples are apart (--interval 2us)",
    });
    return null;
  }
  if (column.column < 1 || column.column > store.columns.length) return null;
  const factor = factorOf(column.unit, problems, column.column);
  if (factor === null) return null;
  const time = store.column(column.column - 1);
  let missing = 0;
  for (let i = 0; i < time.length; i++) {
    time[i] *= factor;
    if (Number.isFinite(time[i])) continue;
    time[i] = Number.NaN;
    missing++;
  }
  if (missing > 0)
    problems.add({
      code: "time-missing",
      message: `Lines without a time: ${missing}.`,
      allowed: "a time in each line",
    });
  const clock = isClock(column.unit);
  if (clock) pastMidnight(time, layout, problems);
  const written = clock
    ? rows.values.clockStep
    : factor * lastDigit(rows.digits[column.column - 1] ?? 0, largestOf(time) / factor);
  if (column.from !== null) fromFirst(time, clock ? written : 0);
  const times = inOrder(time, layout, problems);
  if (times === null) return null;
  const spread = spreadStamps(times.time, problems);
  return { ...times, grain: spread ?? (isEven(times.time, written) ? 0 : written) };
}

/** Of times that count from long ago doubles keep few digits: what a clock writes is a whole number of its steps. */
function fromFirst(time: Float64Array, step: number): void {
  const first = time[0];
  if (!Number.isFinite(first)) return;
  const perSecond = step > 0 && step < 1 ? Math.round(1 / step) : 1;
  for (let i = 0; i < time.length; i++) {
    const since = time[i] - first;
    time[i] = step > 0 ? Math.round(since * perSecond) / perSecond : since;
  }
}

function factorOf(unit: string, problems: Problems, column: number): number | null {
  if (isClock(unit) || unit === "") return 1;
  const known = columnUnit(unit);
  if (known?.measures === "time") return known.factor;
  problems.add({
    code: "wrong-unit",
    path: `column ${column}`,
    message: `The unit of the time, column ${column}, is none of time.`,
    received: unit,
    allowed: "s, ms, µs, ns, min, h or d",
    hint: `say which column holds the time, or its unit (--time "${column}, ms")`,
  });
  return null;
}

/** Repeated times stay as they are; where some go back, rows are put in order. */
function inOrder(time: Float64Array, { firstLine }: CaptureLayout, problems: Problems): Omit<Times, "grain"> | null {
  let repeated = 0;
  let firstRepeat = -1;
  let back = 0;
  let firstBack = -1;
  for (let i = 1; i < time.length; i++) {
    const step = time[i] - time[i - 1];
    if (step === 0) {
      repeated++;
      if (firstRepeat < 0) firstRepeat = i;
    }
    if (step < 0) {
      back++;
      if (firstBack < 0) firstBack = i;
    }
  }
  const line = (row: number): string => `near line ${firstLine + row}`;
  if (repeated === time.length - 1) {
    problems.add({
      code: "time-stands",
      message: "The time stands still: all lines have the same.",
      received: String(time[0]),
      allowed: "times that rise",
      hint: "say which column holds the time (--time 1), or that none does and how far samples are apart (--time none --interval 2us)",
    });
    return null;
  }
  if (repeated > 0 && !areStamps(repeated, time.length))
    problems.add({
      severity: "warning",
      code: "repeated-times",
      message: `Samples with the time of the one before: ${repeated}, the first ${line(firstRepeat)}; they are taken as jumps.`,
    });
  if (back === 0) return { time, order: null };
  const falls = back > time.length / 2;
  // Lines between two recordings have told of them.
  if (problems.count("rows-after-words") > 0) return put(time);
  const anew = falls ? [] : restartsOf(time, usualStep(time));
  if (falls || anew.length > 0) {
    const steps = counted(back, "step");
    problems.add({
      code: "time-restarts",
      message: falls ? "The time falls more often than it rises." : recordings(anew, time, firstLine),
      received: `${steps} back, the first ${line(firstBack)}`,
      allowed: "times that rise",
      hint: falls
        ? "say which column holds the time (--time)"
        : `keep one recording a file: the first ends ${line(anew[0] - 1)}`,
    });
    return put(time);
  }
  problems.add({
    severity: "warning",
    code: "backward-times",
    message: `Samples that lie before the one above them: ${back}, the first ${line(firstBack)}; all were put in order of time.`,
  });
  return put(time);
}

function recordings(anew: readonly number[], time: Float64Array, firstLine: number): string {
  const [first] = anew;
  const fall = Number((time[first - 1] - time[first]).toPrecision(3));
  const lines = anew.slice(0, TOLD).map((row) => firstLine + row);
  const where = `${lines.join(", ")}${anew.length > TOLD ? " …" : ""}`;
  const others = anew.length === 1 ? "the second one begins" : "others begin";
  return `The time goes back by ${fall} s: there seem to be ${anew.length + 1} recordings in this file, ${others} near line ${where}.`;
}

function put(time: Float64Array): Omit<Times, "grain"> {
  const order = sorted(time);
  return { time: Float64Array.from(order, (row) => time[row]), order };
}

function sorted(time: Float64Array): Uint32Array {
  return Uint32Array.from({ length: time.length }, (_, row) => row).sort((a, b) => time[a] - time[b] || a - b);
}
