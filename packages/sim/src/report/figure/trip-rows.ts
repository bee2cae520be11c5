import { extent } from "d3";
import type { Page } from "./chart.ts";
import { outer } from "./chart.ts";
import type { Frame } from "./draw.ts";
import { flowLegend, type LegendItem, type PlacedItem } from "./legend.ts";
import type { TripData, TripPoint, TripRange, TripSide } from "./trip-types.ts";

/** A line of the picture. */
export type TripRow = { readonly label: string; readonly value: string } & (
  | { readonly kind: "heading" }
  | { readonly kind: "start"; readonly at: number }
  | {
      readonly kind: "step";
      readonly from: number;
      readonly to: number;
      /** Whether the band gets narrower by it. */
      readonly takes: boolean;
      readonly spread: boolean;
    }
  | { readonly kind: "edge"; readonly at: number; readonly rss: number }
  | { readonly kind: "window"; readonly range: TripRange }
  | { readonly kind: "point"; readonly point: TripPoint }
);

/** Two decimals are what a meter shows. */
const volts = (value: number): string => `${value.toFixed(2)} V`;

function stepText(value: number): string {
  const size = Math.abs(value);
  const text = size < 0.0995 ? `${Math.round(size * 1e3)} mV` : volts(size);
  return `${value < 0 ? "−" : "+"}${text}`;
}

function sideRows({ title, edge, shares }: TripSide, raising: boolean, at: number, rss: number): TripRow[] {
  let reached = 0;
  const steps = shares.map(({ name, value, spread }, index): TripRow => {
    const from = reached;
    reached += value;
    if (index === 0) return { kind: "start", label: name, value: volts(value), at: value };
    return {
      kind: "step",
      label: name,
      value: stepText(value),
      from,
      to: reached,
      takes: value > 0 === raising,
      spread,
    };
  });
  return [
    { kind: "heading", label: title, value: "" },
    ...steps,
    { kind: "edge", label: edge, value: volts(at), at, rss },
  ];
}

/** Everything that is drawn, from above. */
export function tripRows({ below, above, band, bandRss, window, points }: TripData): TripRow[] {
  const missing = window.low - window.high;
  return [
    ...sideRows(below, true, band.low, bandRss.low),
    { kind: "heading", label: "The trip point", value: "" },
    {
      kind: "window",
      label: missing > 0 ? "nominally nowhere" : "nominally within",
      value: missing > 0 ? `${volts(missing)} missing` : `${window.low.toFixed(2)} to ${volts(window.high)}`,
      range: window,
    },
    ...points.map(
      (point): TripRow => ({
        kind: "point",
        label: `${point.label}: ${volts(point.nominal)}`,
        value: `${point.low.toFixed(2)} to ${volts(point.high)}`,
        point,
      }),
    ),
    ...sideRows(above, false, band.high, bandRss.high),
  ];
}

/** Narrower than this, words stand above what they belong to. */
const stackedBelow = 760;

export const isStacked = ({ width }: Pick<Page, "width">): boolean => width < stackedBelow;

export interface TripLayout {
  readonly frame: Frame;
  readonly height: number;
  readonly legend: readonly PlacedItem[];
  readonly rows: readonly { readonly row: TripRow; readonly y: number; readonly textY: number }[];
  readonly labelRoom: number;
  readonly domain: readonly [number, number];
}

const labelWidth = 300;
const valueWidth = 118;
const below = 44;

export function layOutTrip(page: Page, data: TripData, items: readonly LegendItem[]): TripLayout {
  const rows = tripRows(data);
  const { placed, height: legendHeight } = flowLegend(items, page.left, page.right, page.top);
  const top = page.top + legendHeight + 8;
  const isNarrow = isStacked(page);
  const wanted = isNarrow ? 36 : 22;
  const free = page.height - outer - below - top;
  const most = Math.max(isNarrow ? 36 : 14.5, Math.min(wanted, free / rows.length));
  const step = isNarrow ? wanted : most;
  let y = top;
  const placedRows = rows.map((row) => {
    const tall = isNarrow && row.kind === "heading" ? 24 : step;
    const at = y;
    y += tall;
    const middle = at + tall / 2;
    return isNarrow && row.kind !== "heading" ? { row, y: at + 26, textY: at + 10 } : { row, y: middle, textY: middle };
  });
  const frame = {
    left: isNarrow ? page.left : page.left + labelWidth,
    right: isNarrow ? page.right : page.right - valueWidth,
    top,
    bottom: y,
  };
  const height = Math.max(page.height, Math.ceil(y + below + outer));
  return { frame, height, legend: placed, rows: placedRows, labelRoom: labelWidth - 12, domain: domainOf(data, rows) };
}

function domainOf(data: TripData, rows: readonly TripRow[]): readonly [number, number] {
  const values = rows.flatMap((row) => {
    if (row.kind === "start") return [row.at];
    if (row.kind === "step") return [row.from, row.to];
    if (row.kind === "point") return [row.point.low, row.point.high];
    return row.kind === "edge" ? [row.at, row.rss] : [];
  });
  const [low = 0, high = 1] = extent([...values, data.window.low, data.window.high]);
  const room = 0.04 * (high - low) || 0.5;
  return [low - room, high + room];
}
