import { formatQuantity } from "../../units/index.ts";
import { counted } from "../../verdict/words.ts";
import type { Capture, CapturedChannel, CaptureLayout, ChannelLayout, OutOfRange } from "../types.ts";
import { lastDigit } from "./number.ts";
import type { Problems } from "./problems.ts";
import { MOST_CHANNELS } from "./recognise.ts";
import type { RowReader } from "./rows.ts";
import { usualStep } from "./stamps.ts";
import type { Store } from "./store.ts";
import { timesOf } from "./times.ts";
import { columnUnit, isCalledCurrent } from "./units.ts";

/**
 * Columns to channels in SI units, in order of time, within the store's own arrays: to be called once. Everything that is wrong with the whole goes to the problems.
 *
 * @returns what there is, also where it is not good enough to be judged; null where there is not even a time
 */
export function finish(
  layout: CaptureLayout,
  store: Store,
  rows: RowReader,
  problems: Problems,
  file: string,
): Capture | null {
  const timed = timesOf(layout, store, rows, problems);
  if (rows.short > 0)
    problems.add({
      severity: "warning",
      code: "short-lines",
      message: `Lines that end early: ${rows.short}; their missing cells count as empty.`,
    });
  checkChoice(layout, problems);
  // A column that is named twice is an error, and its numbers are turned into volts once.
  const once = layout.channels.filter(
    ({ column }, index) =>
      column !== layout.time?.column && layout.channels.findIndex((each) => each.column === column) === index,
  );
  const channels = once.slice(0, MOST_CHANNELS).flatMap((channel) => {
    const made = channelFrom(channel, store, rows, problems);
    return made === null ? [] : [made];
  });
  if (channels.length === 0 && !problems.errors)
    problems.add({
      code: "no-channel",
      message:
        layout.columns === 1
          ? "There is one column only: it is either the time or what was measured."
          : "No column holds a voltage or a current.",
      allowed: "a time column, or a sample interval, and at least one channel",
      hint: layout.columns === 1 ? "give the sample interval where the column is what was measured" : null,
    });
  tellEqual(channels, problems);
  if (timed === null) return null;
  const { time, order, grain } = timed;
  const sorted = channels.map((each) => {
    const values = order === null ? each.values : reordered(each.values, order);
    return { ...each, values, outside: outsideOf(values, rows.values.signed[each.layout.column - 1] ?? false) };
  });
  return { file, layout, time, channels: sorted, interval: usualStep(time), timeGrain: grain };
}

function checkChoice({ channels, columns, time }: CaptureLayout, problems: Problems): void {
  if (channels.length > MOST_CHANNELS)
    problems.add({
      code: "too-many-channels",
      message: "There are more channels than are read.",
      received: String(channels.length),
      allowed: `${MOST_CHANNELS} channels`,
      hint: "name those that are wanted",
    });
  const twice = channels.find(({ column }, index) => channels.findIndex((each) => each.column === column) < index);
  if (twice !== undefined)
    problems.add({
      code: "column-twice",
      message: `Column ${twice.column} is named as two channels.`,
      allowed: "a column once",
    });
  for (const { column, name } of [...channels, ...(time === null ? [] : [time])])
    if (!Number.isInteger(column) || column < 1 || column > columns)
      problems.add({
        code: "no-such-column",
        message: `There is no such column for "${name}".`,
        received: String(column),
        allowed: `1 to ${columns}`,
      });
  if (time !== null && channels.some(({ column }) => column === time.column))
    problems.add({
      code: "time-as-channel",
      message: `Column ${time.column} is the time and cannot be a channel.`,
      allowed: "another column",
    });
}

const LARGEST_FACTOR = 1e12;

function channelFrom(layout: ChannelLayout, store: Store, rows: RowReader, problems: Problems): CapturedChannel | null {
  const { column, name, unit, attenuation, offset, inverted, amperesPerVolt } = layout;
  if (column < 1 || column > store.columns.length) return null;
  const known = columnUnit(unit);
  if (known === null || known.measures === "time" || known.measures === "other") {
    problems.add({
      severity: known?.measures === "other" ? "warning" : "error",
      code: "wrong-unit",
      path: `column ${column}`,
      message:
        known?.measures === "other"
          ? `Column ${column}, "${name}", is neither a voltage nor a current and is left out.`
          : `The unit of column ${column}, "${name}", says nothing about a voltage or a current.`,
      received: unit,
      allowed: "V, mV, µV, kV, A, mA, µA or kA",
      hint: known === null ? "give the unit of its numbers, or leave the column out" : null,
    });
    return null;
  }
  const raw = store.column(column - 1);
  const factor = (inverted ? -1 : 1) * attenuation * (amperesPerVolt ?? 1);
  if (
    !(
      Math.abs(factor) >= 1 / LARGEST_FACTOR &&
      Math.abs(factor) <= LARGEST_FACTOR &&
      Math.abs(offset) <= LARGEST_FACTOR
    )
  ) {
    problems.add({
      code: "bad-factor",
      path: `column ${column}`,
      message: `Attenuation, offset and A/V of "${name}" are not those of any probe.`,
      allowed: `factors from ${1 / LARGEST_FACTOR} to ${LARGEST_FACTOR}, offsets up to ${LARGEST_FACTOR} V or A`,
    });
    return null;
  }
  if (amperesPerVolt !== null && known.measures === "current") {
    problems.add({
      code: "wrong-unit",
      path: `column ${column}`,
      message: `A shunt or clamp turns volts into amperes, but "${name}" is in amperes already.`,
      received: unit,
      allowed: "a unit of voltage",
    });
    return null;
  }
  if (amperesPerVolt === null && known.measures === "voltage" && isCalledCurrent(name))
    problems.add({
      severity: "warning",
      code: "current-in-volts",
      path: `column ${column}`,
      message: `"${name}" is called a current but is in ${unit}: it is not held against limits of a voltage.`,
      hint: `say what its shunt or clamp is (--channel "${column}: ${name}, ${unit}, shunt 1 mohm"), that it is in A, or call it otherwise where it is a voltage`,
    });
  const gaps = rows.values.gaps[column - 1] ?? 0;
  const outOfRange = rows.values.beyond[column - 1] ?? 0;
  if (gaps + outOfRange === raw.length) {
    problems.add({
      severity: "warning",
      code: "empty-channel",
      path: `column ${column}`,
      message: `Column ${column}, "${name}", holds no number.`,
    });
    return null;
  }
  if (outOfRange > 0)
    problems.add({
      severity: "warning",
      code: "out-of-range",
      path: `column ${column}`,
      message: `"${name}" was out of the instrument's range in ${counted(outOfRange, "sample")}: how far is not known; no peak holds, and no limit is kept for certain.`,
    });
  // In place: a long capture is held once, not twice.
  let largest = 0;
  for (let i = 0; i < raw.length; i++) {
    const size = Math.abs(raw[i]);
    if (size > largest && size < Infinity) largest = size;
    raw[i] = (raw[i] * known.factor - offset) * factor;
  }
  const digit = lastDigit(rows.digits[column - 1] ?? 0, largest) * known.factor * Math.abs(factor);
  const made = amperesPerVolt !== null || known.measures === "current" ? "A" : "V";
  return { layout, name, unit: made, values: raw, gaps, outOfRange, outside: [], digit };
}

/** Where others change, one that does not may be a current that did not flow: it is told and kept. */
function tellEqual(channels: readonly CapturedChannel[], problems: Problems): void {
  // A meter that shows one value and then leaves its range has measured something.
  const equal = channels.filter(({ outOfRange, values }) => outOfRange === 0 && allEqual(values));
  const isWarning = equal.length < channels.length;
  for (const { name, unit, layout, values } of equal)
    problems.add({
      severity: isWarning ? "warning" : "error",
      code: "all-equal",
      path: `column ${layout.column}`,
      message: `All values of "${name}" are equal: ${isWarning ? "it never changed, " : ""}nothing was measured, or another column is meant.`,
      received: formatQuantity(
        values.find((value) => !Number.isNaN(value)) ?? 0,
        unit === "V" ? "voltage" : "current",
        { digits: 6 },
      ),
      allowed: "values that change",
    });
}

/** Whether all of several numbers are one and the same; NaN is none. */
export function allEqual(values: Float64Array): boolean {
  let first = Number.NaN;
  let count = 0;
  for (const value of values) {
    if (Number.isNaN(value)) continue;
    if (Number.isNaN(first)) first = value;
    else if (value !== first) return false;
    count++;
  }
  return count > 1;
}

/** Where values are infinite, as rows; they become NaN. */
function outsideOf(values: Float64Array, signed: boolean): OutOfRange[] {
  const found: { first: number; end: number; side: 1 | -1 | 0 }[] = [];
  for (let i = 0; i < values.length; i++) {
    const value = values[i];
    if (value !== Infinity && value !== -Infinity) continue;
    values[i] = Number.NaN;
    const side = signed ? (value > 0 ? 1 : -1) : 0;
    const last = found.at(-1);
    if (last?.end === i && last.side === side) last.end++;
    else found.push({ first: i, end: i + 1, side });
  }
  return found;
}

function reordered(values: Float64Array, order: Uint32Array): Float64Array {
  const out = new Float64Array(values.length);
  for (let i = 0; i < order.length; i++) out[i] = values[order[i]];
  return out;
}
