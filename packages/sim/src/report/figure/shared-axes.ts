import { chooseTimeScale, firstDecade } from "./time-axis.ts";
import type { SharedAxes, WaveformData } from "./types.ts";

/**
 * Scales that several runs of one line have in common, so that their figures may be compared side by side.
 *
 * @param several data of at least one run; their times count from the same start
 * @param range the part of the runs to show, s; default from the earliest start to the latest end
 * @returns for the option `axes` of `faultFigure`; values over the whole of each run, not only over the range
 * @throws RangeError when there are no data
 * @example
 * const axes = sharedAxes(several);
 * for (const data of several) container.append(faultFigure(data, { document, axes, frame: "bare", width: 320, height: 180 }));
 */
export function sharedAxes(several: readonly WaveformData[], range?: readonly [number, number]): SharedAxes {
  if (several.length === 0) throw new RangeError("there are no data whose axes could be shared");
  const all = range ?? [
    Math.min(...several.map(({ time }) => time[0])),
    Math.max(...several.map(({ time, restsUntil }) => Math.max(time[time.length - 1], restsUntil ?? 0))),
  ];
  const scales = several.map(({ events, faultTime }) => chooseTimeScale(events, faultTime, all));
  const windows = several.flatMap(({ window }) => [window.minimum, window.maximum]);
  const voltages = several.flatMap((data) => data.voltages.map(({ values }) => extentOf(values)));
  const currents = several.flatMap((data) => data.currents.map(({ values }) => extentOf(values)));
  return {
    range: all,
    // A rhythm asks for equal steps; where one figure is better off so, all are.
    timeScale: scales.every((scale) => scale === "logarithmic") ? "logarithmic" : "linear",
    firstDelay: Math.min(...several.map(({ events, faultTime }) => firstDecade(events, faultTime, all[1]))),
    voltage: voltages.length === 0 ? null : around([...voltages, windows]),
    current: currents.length === 0 ? null : around([...currents, [0]]),
    devices: [...new Set(several.flatMap(({ states }) => states.map(({ label }) => label)))],
    rows: Math.max(...several.map(({ states }) => states.length)),
  };
}

function extentOf(values: Float64Array): readonly [number, number] {
  let lowest = Infinity;
  let highest = -Infinity;
  for (let i = 0; i < values.length; i++) {
    if (values[i] < lowest) lowest = values[i];
    if (values[i] > highest) highest = values[i];
  }
  return [lowest, highest];
}

function around(extents: readonly (readonly number[])[]): readonly [number, number] {
  const all = extents.flat();
  return [Math.min(...all), Math.max(...all)];
}
