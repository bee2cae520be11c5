import type { HeadroomData, SurgeData, TimeCurrentData } from "./chart-types.ts";
import type { WithstandData } from "./withstand-types.ts";

/** @throws RangeError naming everything that is wrong */
function refuse(problems: readonly string[]): void {
  if (problems.length > 0) throw new RangeError(`these data cannot be drawn: ${problems.join("; ")}`);
}

const positive = (value: number): boolean => value > 0 && value < Number.POSITIVE_INFINITY;

export function checkHeadroom({ limits }: HeadroomData): void {
  const wrong = limits.filter(({ headroom }) => headroom !== null && !positive(headroom));
  refuse([
    ...(limits.length === 0 ? ["there are no limits"] : []),
    ...wrong.map(
      ({ subject, quantity, headroom }) =>
        `the headroom of "${subject}, ${quantity}" is ${headroom}, allowed: above 0 and finite`,
    ),
  ]);
}

export function checkSurge({ parts, rating, windows }: SurgeData): void {
  refuse([
    ...(parts.length === 0 ? ["there are no parts"] : []),
    ...parts
      .filter(({ i2t }) => !(positive(i2t) || i2t === 0))
      .map(({ label, i2t }) => `"${label}" is ${i2t} A²s, allowed: from 0 on`),
    ...(positive(rating.i2t) ? [] : [`the rating is ${rating.i2t} A²s, allowed: above 0`]),
    ...windows
      .filter(
        ({ duration, i2t, allowed }) => !positive(duration) || !positive(allowed) || !(positive(i2t) || i2t === 0),
      )
      .map(({ duration, i2t, allowed }) => `the window of ${duration} s has ${i2t} of ${allowed} A²s`),
  ]);
}

export function checkTimeCurrent({ curves, currents, point }: TimeCurrentData): void {
  const usable = ({ current, time }: { current: number; time: number }): boolean => positive(current) && positive(time);
  refuse([
    ...(curves.length === 0 ? ["there are no curves"] : []),
    ...curves.flatMap(({ label, points, gates }) => [
      ...(points.length < 2
        ? [`"${label}" has ${points.length === 1 ? "1 point" : "no points"}, at least 2 are needed`]
        : []),
      ...points
        .filter((each) => !usable(each))
        .map(({ current, time }) => `"${label}" has a point at ${current} A, ${time} s`),
      ...gates
        .filter(
          ({ current, minimum, maximum }) =>
            !positive(current) || [minimum, maximum].some((time) => time !== null && !positive(time)),
        )
        .map(
          ({ current, minimum, maximum }) => `"${label}" has a gate at ${current} A from ${minimum} to ${maximum} s`,
        ),
    ]),
    ...currents
      .filter(({ value }) => !positive(value))
      .map(({ label, value }) => `"${label}" is ${value} A, allowed: above 0`),
    ...(point === null || usable(point) ? [] : [`"${point.label}" stands at ${point.current} A, ${point.time} s`]),
  ]);
}

export function checkWithstand({ loads }: WithstandData): void {
  refuse([
    ...(loads.length === 0 ? ["there are no loads"] : []),
    ...loads.flatMap(({ label, maximum, peak, found, allowed, nearest }) => [
      ...(Number.isFinite(maximum) && Number.isFinite(peak)
        ? []
        : [`"${label}" has a peak of ${peak} V and a maximum of ${maximum} V`]),
      ...[...found, ...allowed]
        .filter(({ voltage, time }) => !Number.isFinite(voltage) || !positive(time))
        .map(({ voltage, time }) => `"${label}" has a point at ${voltage} V, ${time} s`),
      ...[...found, ...allowed]
        .filter((_, i, all) => i > 0 && i !== found.length && !(all[i].voltage > all[i - 1].voltage))
        .map(({ voltage }) => `"${label}": the voltages do not rise at ${voltage} V`),
      ...(nearest === null || (positive(nearest.found) && positive(nearest.allowed))
        ? []
        : [`"${label}": nearest is ${nearest.found} s of ${nearest.allowed} s`]),
    ]),
  ]);
}
