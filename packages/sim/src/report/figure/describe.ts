import type { EventList } from "./events.ts";
import type { TimeAxis } from "./time-axis.ts";
import { formatNumber, formatTime } from "./time-format.ts";
import type { WaveformData } from "./types.ts";

/** What a reader who cannot see the fault figure should know. */
export function describeRun(data: WaveformData, axis: TimeAxis, list: EventList): string {
  const loads = data.voltages.filter((curve) => curve.role === "load");
  const { minimum, maximum } = data.window;
  return [
    data.subtitle,
    ...factsTold(data),
    `Voltages, currents and device states over ${spanInWords(data, axis)}, on a ${axis.kind} time axis.`,
    `Allowed at the radio: ${formatNumber(minimum)} to ${formatNumber(maximum)} V.`,
    ...loads.map((load) => `${load.label}: at most ${formatNumber(highest(load.values))} V over the whole run.`),
    ...data.currents.map(
      (current) => `${current.label}: at most ${formatNumber(highest(current.values))} A over the whole run.`,
    ),
    ...eventsTold(list, data.zero ?? "fault"),
    ...(list.omitted > 0 ? [`${list.omitted} more events are not listed.`] : []),
  ].join(" ");
}

/** The list of events, a sentence each. */
export const eventsTold = ({ listed }: EventList, zero: string): string[] =>
  listed.map(({ number, when, text }) =>
    when.startsWith("+")
      ? `${number}: ${when.slice(1)} after ${number - 1}, ${text}.`
      : `${number}: ${when} after the ${zero}, ${text}.`,
  );

/** The line of facts as a sentence; those of a capture are sentences already. */
export function factsTold({ facts }: { readonly facts?: string }): string[] {
  return facts === undefined || facts === "" ? [] : [facts.replace(/\.?$/, ".")];
}

/** The time that an axis shows: `0 s to 590 ms after the fault`. */
export function spanInWords(data: Pick<WaveformData, "faultTime" | "zero">, axis: TimeAxis): string {
  const zero = data.zero ?? "fault";
  if (axis.from >= data.faultTime) {
    return `${formatTime(axis.from - data.faultTime)} to ${formatTime(axis.to - data.faultTime)} after the ${zero}`;
  }
  if (axis.to <= data.faultTime) return `the last ${formatTime(data.faultTime - axis.from)} before the ${zero}`;
  return `the time from ${formatTime(data.faultTime - axis.from)} before to ${formatTime(axis.to - data.faultTime)} after the ${zero}`;
}

function highest(values: Float64Array): number {
  let most = -Infinity;
  for (let i = 0; i < values.length; i++) if (values[i] > most) most = values[i];
  return most;
}
