import type { HeatData } from "./heat-types.ts";
import type { WaveformData } from "./types.ts";

/**
 * Refuses data that cannot be drawn truthfully.
 * @throws RangeError naming everything that is wrong
 */
export function checkWaveformData(data: WaveformData): void {
  const wrong = [...timeProblems(data), ...curveProblems(data), ...stateProblems(data), ...otherProblems(data)];
  if (wrong.length > 0) throw new RangeError(`these data cannot be drawn: ${wrong.join("; ")}`);
}

/**
 * Refuses data that cannot be drawn truthfully.
 * @throws RangeError naming everything that is wrong
 */
export function checkHeat(data: HeatData): void {
  const curves = [...data.temperatures, ...data.melting];
  const wrong = [
    ...timeProblems(data),
    ...(curves.length === 0 ? ["there are no curves"] : []),
    ...lengthsAndValues(data.time, curves),
    ...(Number.isFinite(data.faultTime) ? [] : [`faultTime is ${data.faultTime}`]),
    ...(Number.isFinite(data.ambient) ? [] : [`ambient is ${data.ambient}`]),
  ];
  if (wrong.length > 0) throw new RangeError(`these data cannot be drawn: ${wrong.join("; ")}`);
}

function timeProblems({ time }: Pick<WaveformData, "time">): string[] {
  if (time.length < 2) return [`time has ${time.length === 1 ? "1 point" : "no points"}, at least 2 are needed`];
  const problems: string[] = [];
  const unusable = firstUnusable(time);
  if (unusable >= 0) problems.push(`time[${unusable}] is ${time[unusable]}`);
  const back = time.findIndex((value, i) => i > 0 && value < time[i - 1]);
  if (back >= 0) problems.push(`time falls at [${back}], from ${time[back - 1]} to ${time[back]}`);
  if (!(time[time.length - 1] > time[0])) problems.push("time does not advance");
  return problems;
}

function curveProblems({ time, voltages, currents }: WaveformData): string[] {
  return lengthsAndValues(time, [...voltages, ...currents]);
}

function lengthsAndValues(
  time: Float64Array,
  curves: readonly { readonly label: string; readonly values: Float64Array }[],
): string[] {
  return curves.flatMap(({ label, values }) => {
    if (values.length !== time.length) return [`"${label}" has ${values.length} points, time has ${time.length}`];
    const unusable = firstUnusable(values);
    return unusable < 0 ? [] : [`"${label}" is ${values[unusable]} at point ${unusable}`];
  });
}

/** A plain loop: tens of thousands of values a curve are looked at before each drawing. */
function firstUnusable(values: Float64Array): number {
  for (let i = 0; i < values.length; i++) if (!Number.isFinite(values[i])) return i;
  return -1;
}

function stateProblems({ states }: WaveformData): string[] {
  return states.flatMap(({ label, spans }) =>
    spans
      .filter((span, i) => !(span.to >= span.from) || (i > 0 && span.from < spans[i - 1].to))
      .map((span) => `"${label}": the span "${span.tag}" from ${span.from} to ${span.to} is not in order`),
  );
}

function otherProblems({ window, faultTime, events, currents }: WaveformData): string[] {
  const problems: string[] = [];
  if (!(window.maximum > window.minimum)) {
    problems.push(`the window from ${window.minimum} to ${window.maximum} V is empty`);
  }
  if (!Number.isFinite(faultTime)) problems.push(`faultTime is ${faultTime}`);
  for (const event of events)
    if (!Number.isFinite(event.time)) problems.push(`event "${event.label}" at ${event.time}`);
  for (const { limit } of currents) {
    if (limit && !(limit.value > 0)) problems.push(`limit "${limit.label}" is ${limit.value}, allowed: above 0`);
  }
  return problems;
}
