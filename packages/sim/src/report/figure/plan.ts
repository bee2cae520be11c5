import { type Columns, columnsOf } from "./layout.ts";
import { itemWidth } from "./legend.ts";
import { textWidth } from "./text.ts";
import { chooseTimeScale, linearTimeAxis, logarithmicTimeAxis, type TimeAxis } from "./time-axis.ts";
import type { FigureOptions, WaveformData } from "./types.ts";

export type PlanOptions = Pick<FigureOptions, "width" | "timeScale" | "range">;

/** What is settled before anything is drawn: how wide, which time, which scale. */
export interface Plan {
  readonly width: number;
  readonly narrow: boolean;
  readonly range: readonly [number, number];
  readonly columns: Columns;
  readonly axis: TimeAxis;
}

export const headings = { voltage: "Voltage, V", current: "Current, A", time: "Time after fault" };

const narrowBelow = 620;

export function planOf(data: WaveformData, options: PlanOptions): Plan {
  const width = options.width ?? 960;
  const narrow = width < narrowBelow;
  const range = rangeOf(data, options.range);
  const columns = columnsOf(width, narrow, leftWidth(data), rightWidth(data));
  const extent = { from: range[0], to: range[1], left: columns.plotLeft, right: columns.plotRight };
  const asked = options.timeScale ?? "auto";
  const kind = asked === "auto" ? chooseTimeScale(data.events, data.faultTime, range) : asked;
  const axis =
    kind === "linear"
      ? linearTimeAxis(extent, data.faultTime, data.zero)
      : logarithmicTimeAxis(extent, data.faultTime, data.events, data.zero);
  return { width, narrow, range, columns, axis };
}

function rangeOf({ time }: WaveformData, asked: FigureOptions["range"]): readonly [number, number] {
  const whole = [time[0], time[time.length - 1]] as const;
  if (asked === undefined) return whole;
  const range = [Math.max(asked[0], whole[0]), Math.min(asked[1], whole[1])] as const;
  if (range[1] > range[0]) return range;
  throw new RangeError(
    `range ${asked[0]} to ${asked[1]} s shows nothing, allowed: within ${whole[0]} to ${whole[1]} s`,
  );
}

function leftWidth(data: WaveformData): number {
  const names = data.states.map((row) => textWidth(row.label, 12));
  const titles = Object.values(headings).map((heading) => textWidth(heading, 12, true));
  return Math.min(160, Math.max(...names, ...titles) + 14);
}

function rightWidth(data: WaveformData): number {
  const names = [...data.voltages, ...data.currents].map((curve) =>
    itemWidth({
      text: `${curve.label}, peak 88.8 V`,
      value: null,
      color: "",
      sample: { kind: "line", width: 1, dash: "" },
    }),
  );
  return Math.min(176, Math.max(136, ...names));
}
