import { type Columns, columnsOf } from "./layout.ts";
import { itemWidth } from "./legend.ts";
import { type Extent, extentOf } from "./size.ts";
import { textWidth } from "./text.ts";
import { chooseTimeScale, linearTimeAxis, logarithmicTimeAxis, type TimeAxis } from "./time-axis.ts";
import type { FigureOptions, WaveformData } from "./types.ts";

/** What decides where things stand; everything but the document and the colours. */
export type PlanOptions = Omit<FigureOptions, "document" | "scheme" | "id">;

/** What of a run's data a figure over time is laid out by. */
export type TimedData = Pick<WaveformData, "time" | "faultTime" | "zero" | "events" | "states">;

/** What is settled before anything is drawn: how large, which time, which scale. */
export interface Plan extends Extent {
  readonly bare: boolean;
  readonly range: readonly [number, number];
  readonly columns: Columns;
  readonly axis: TimeAxis;
}

/**
 * @param headings of the value panels, which stand left of their plots
 * @param names the longest texts of the legends, which stand right of them
 */
export function planOf(
  data: TimedData,
  options: PlanOptions,
  headings: readonly string[],
  names: readonly string[],
): Plan {
  const extent = extentOf(options);
  const bare = options.frame === "bare";
  const range = rangeOf(data, options);
  const devices = options.axes?.devices ?? data.states.map(({ label }) => label);
  const columns = bare
    ? bareColumns(extent.width, devices)
    : columnsOf(extent.width, extent.narrow, leftWidth(devices, headings), rightWidth(names));
  const span = { from: range[0], to: range[1], left: columns.plotLeft, right: columns.plotRight };
  const asked = options.timeScale ?? options.axes?.timeScale ?? "auto";
  const kind = asked === "auto" ? chooseTimeScale(data.events, data.faultTime, range) : asked;
  const axis =
    kind === "linear"
      ? linearTimeAxis(span, data.faultTime, data.zero)
      : logarithmicTimeAxis(
          span,
          data.faultTime,
          options.axes?.firstDelay ?? data.events,
          data.zero,
          options.axes?.leadIn,
        );
  return { ...extent, bare, range, columns, axis };
}

/** A range in common with other figures is shown whole; one's own is cut to the data. */
function rangeOf({ time }: TimedData, { range: asked, axes }: PlanOptions): readonly [number, number] {
  const whole = axes?.range ?? ([time[0], time[time.length - 1]] as const);
  if (asked === undefined) return whole;
  const range = [Math.max(asked[0], whole[0]), Math.min(asked[1], whole[1])] as const;
  if (range[1] > range[0]) return range;
  throw new RangeError(
    `range ${asked[0]} to ${asked[1]} s shows nothing, allowed: within ${whole[0]} to ${whole[1]} s`,
  );
}

/** Left of the plots stand numbers and the names of devices, which are shortened where they would take too much. */
function bareColumns(width: number, devices: readonly string[]): Columns {
  const names = Math.max(0, ...devices.map((name) => textWidth(name, 12)));
  const side = 6;
  const plotLeft = side + Math.max(34, Math.min(names + 8, 0.34 * width));
  const outerRight = width - side;
  return { outerLeft: side, plotLeft, plotRight: outerRight, legendLeft: side, outerRight };
}

function leftWidth(devices: readonly string[], headings: readonly string[]): number {
  const names = devices.map((name) => textWidth(name, 12));
  // The topmost number of a plot stands on the line of its heading.
  const titles = headings.map((heading) => textWidth(heading, 12, true) + 30);
  return Math.min(160, Math.max(...names, ...titles, textWidth("Time after fault", 12, true)) + 14);
}

function rightWidth(names: readonly string[]): number {
  const widths = names.map((text) =>
    itemWidth({ text, value: null, color: "", sample: { kind: "line", width: 1, dash: "" } }),
  );
  return Math.min(176, Math.max(136, ...widths));
}
