import { columnName } from "../model/readings.ts";
import type { Scenario } from "../scenario/types.ts";
import type { Trace } from "../trace/types.ts";
import { hasFault, zeroOf } from "../verdict/when.ts";
import { afterColumn, type Cell, type CountedFrom, csvLines, csvTable, timeText } from "./csv.ts";
import type { HeadroomData, SurgeData, TimeCurrentData } from "./figure/chart-types.ts";
import type { HeatData } from "./figure/heat-types.ts";
import type { PanelName, WaveformData } from "./figure/types.ts";
import type { WithstandData } from "./figure/withstand-types.ts";

// What each figure draws, as a table: one row an instant for curves over time, else one row a point, bar or limit.

interface Curve {
  readonly label: string;
  readonly values: Float64Array;
}

type Timed = Pick<WaveformData, "time" | "faultTime" | "zero">;

/** The instant after which a run's times are told. */
export function countedFrom(scenario: Scenario): CountedFrom {
  return { time: zeroOf(scenario), what: hasFault(scenario) ? "fault" : "start" };
}

function counted({ faultTime, zero }: Timed): CountedFrom {
  return { time: faultTime, what: zero ?? "fault" };
}

function overTime(data: Timed, curves: readonly (Curve & { readonly unit: string })[]): Generator<string> {
  const columns: Trace["columns"] = curves.map(({ label, values, unit }) => ({
    name: columnName(label, unit),
    unit,
    values,
  }));
  return csvLines({ time: data.time, columns }, counted(data));
}

/** The curves of the panels asked for; states alone as spans. */
export function waveformCsv(data: WaveformData, panels: readonly PanelName[]): Generator<string> {
  const only = panels.every((panel) => panel === "states");
  if (only) return statesCsv(data);
  return overTime(data, [
    ...(panels.includes("voltage") ? data.voltages.map((curve) => ({ ...curve, unit: "V" })) : []),
    ...(panels.includes("current") ? data.currents.map((curve) => ({ ...curve, unit: "A" })) : []),
  ]);
}

function statesCsv(data: WaveformData): Generator<string> {
  const zero = counted(data);
  const spans = data.states.flatMap(({ label, spans }) => spans.map((span) => ({ ...span, label })));
  const rows = spans.map(({ label, tag, from, to }): Cell[] => {
    const times = [from, to, from - zero.time, to - zero.time];
    return [label, tag, ...times.map(timeText)];
  });
  return csvTable(["device", "state", "from_s", "to_s", afterColumn(zero, "from"), afterColumn(zero, "to")], rows);
}

export function heatCsv(data: HeatData): Generator<string> {
  const { temperatures, melting } = data;
  return overTime(data, [
    ...temperatures.map((curve) => ({ ...curve, unit: "degC" })),
    ...melting.map(({ label, values }) => ({ label: `${label} melt`, values, unit: "share" })),
  ]);
}

export function headroomCsv({ limits }: HeadroomData): Generator<string> {
  return csvTable(
    ["part", "quantity", "found_with_unit", "rating_with_unit", "headroom_ratio", "result"],
    limits.map(({ subject, quantity, found, rating, headroom, severity }) => [
      subject,
      quantity,
      found,
      rating,
      headroom,
      severity,
    ]),
  );
}

export function surgeCsv({ parts, rating, windows }: SurgeData): Generator<string> {
  return csvTable(
    ["what", "window_s", "I2t_A2s", "allowed_A2s"],
    [
      ...parts.map(({ label, i2t }): Cell[] => [label, null, i2t, null]),
      ["together", null, parts.reduce((sum, { i2t }) => sum + i2t, 0), rating.i2t],
      ...windows.map(({ duration, i2t, allowed }): Cell[] => ["worst window", duration, i2t, allowed]),
    ],
  );
}

export function timeCurrentCsv({ curves, currents, point }: TimeCurrentData): Generator<string> {
  return csvTable(
    ["what", "kind", "current_A", "time_s", "longest_time_s"],
    [
      ...curves.flatMap(({ label, points, gates }) => [
        ...points.map(({ current, time }): Cell[] => [label, "curve", current, time, null]),
        ...gates.map(({ current, minimum, maximum }): Cell[] => [label, "gate", current, minimum, maximum]),
      ]),
      ...currents.map(({ label, value }): Cell[] => [label, "current", value, null, null]),
      ...(point === null ? [] : [[point.label, "this run", point.current, point.time, null] satisfies Cell[]]),
    ],
  );
}

export function withstandCsv({ loads }: WithstandData): Generator<string> {
  return csvTable(
    ["load", "kind", "above_V", "longest_time_s"],
    loads.flatMap(({ label, found, allowed }) => [
      ...found.map(({ voltage, time }): Cell[] => [label, "found", voltage, time]),
      ...allowed.map(({ voltage, time }): Cell[] => [label, "allowed", voltage, time]),
    ]),
  );
}
