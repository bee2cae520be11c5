import { dot, link, type Markish } from "@observablehq/plot";
import type { TimeCurrentCurve, TimeCurrentData } from "./chart-types.ts";
import type { LegendItem } from "./legend.ts";
import type { LogScale } from "./log-scale.ts";
import type { LineStyle, Palette } from "./palette.ts";
import { textWidth, unbroken } from "./text.ts";
import { formatNumber, formatTime } from "./time-format.ts";

interface Point {
  readonly current: number;
  readonly time: number;
}

type Domain = readonly [number, number];

/** The part of a curve inside both domains; where it leaves them the end is found on a straight line in the logarithms. */
export function within(points: readonly Point[], currents: Domain, times: Domain): Point[] {
  const inside = (point: Point) =>
    point.current >= currents[0] && point.current <= currents[1] && point.time >= times[0] && point.time <= times[1];
  const kept: Point[] = [];
  for (const [i, point] of points.entries()) {
    const before = points[i - 1];
    if (before !== undefined && inside(before) !== inside(point)) {
      kept.push(inside(point) ? edge(point, before, currents, times) : edge(before, point, currents, times));
    }
    if (inside(point)) kept.push(point);
  }
  return kept;
}

/** Where the way from a point inside to one outside leaves the domains. */
function edge(inner: Point, outer: Point, currents: Domain, times: Domain): Point {
  const share = (from: number, to: number, [low, high]: Domain): number => {
    if (to >= low && to <= high) return 1;
    return Math.log((to < low ? low : high) / from) / Math.log(to / from);
  };
  const way = Math.min(share(inner.current, outer.current, currents), share(inner.time, outer.time, times));
  return {
    current: inner.current * (outer.current / inner.current) ** way,
    time: inner.time * (outer.time / inner.time) ** way,
  };
}

/** A gate as an upright bar between its times, its ends marked; an open end runs to the edge with an arrow. */
export function gateMarks(gates: TimeCurrentCurve["gates"], color: string, y: LogScale): Markish[] {
  const [low, high] = y.domain;
  const bars = gates
    .map(({ current, minimum, maximum }) => ({ current, from: minimum ?? low, to: maximum ?? high, minimum, maximum }))
    .filter(({ from, to }) => from < high && to > low)
    .map((bar) => ({ ...bar, from: Math.max(bar.from, low), to: Math.min(bar.to, high) }));
  const ends = bars.flatMap(({ current, minimum, maximum, from, to }) => [
    ...(minimum !== null && minimum >= low ? [{ current, time: from }] : []),
    ...(maximum !== null && maximum <= high ? [{ current, time: to }] : []),
  ]);
  return [
    link(bars, {
      x1: "current",
      x2: "current",
      y1: "from",
      y2: "to",
      stroke: color,
      strokeWidth: 5,
      strokeOpacity: 0.28,
    }),
    dot(ends, { x: "current", y: "time", symbol: "plus", r: 4, stroke: color, strokeWidth: 1.6 }),
  ];
}

/** What the run's own point says. */
export function pointText({ label, current, time }: NonNullable<TimeCurrentData["point"]>): string {
  return `${label}: ${[`${formatNumber(current)} A,`, formatTime(time)].map(unbroken).join(" ")}`;
}

/** @param narrow then the run's own point, too, stands among the names */
export function legendOf(
  colors: Palette,
  data: TimeCurrentData,
  styles: readonly LineStyle[],
  narrow: boolean,
): LegendItem[] {
  const items: LegendItem[] = data.curves.map(({ label }, i) => ({
    text: label,
    value: 0,
    color: styles[i].color,
    sample: { kind: "line", width: styles[i].width, dash: styles[i].dash },
  }));
  const gated = data.curves.findIndex(({ gates }) => gates.length > 0);
  if (gated >= 0) {
    const { color } = styles[gated];
    items.splice(gated + 1, 0, {
      text: "published gates: it opens within",
      value: 0,
      color,
      sample: { kind: "line", width: 5, dash: "" },
    });
  }
  for (const { label, role, value } of data.currents) {
    items.push({
      text: `${label} ${unbroken(`${formatNumber(value)} A`)}`,
      value: 0,
      color: role === "fault" ? colors.exceedanceInk : colors.loads[0],
      sample: { kind: "line", width: 1.4, dash: role === "fault" ? "10 4" : "2 3" },
    });
  }
  if (narrow && data.point !== null)
    items.push({ text: `◆ ${pointText(data.point)}`, value: 0, color: colors.ink, sample: { kind: "none" } });
  return items;
}

interface Label {
  readonly text: string;
  readonly x: number;
  readonly color: string;
}

/** Pushes labels apart along a line, then back where they left it. */
export function spreadLabels(labels: readonly Label[], left: number, right: number): Label[] {
  const sorted = [...labels].sort((a, b) => a.x - b.x);
  const half = (label: Label) => textWidth(label.text, 12, true) / 2;
  const placed: Label[] = [];
  let end = left - 10;
  for (const label of sorted) {
    const x = Math.max(label.x, end + 10 + half(label));
    placed.push({ ...label, x });
    end = x + half(label);
  }
  let limit = right + 10;
  for (let i = placed.length - 1; i >= 0; i--) {
    const x = Math.min(placed[i].x, limit - 10 - half(placed[i]));
    placed[i] = { ...placed[i], x };
    limit = x - half(placed[i]);
  }
  return placed;
}
