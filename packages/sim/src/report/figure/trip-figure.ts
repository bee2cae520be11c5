import { type ScaleLinear, scaleLinear } from "d3";
import { drawLegend, verticalLine, write } from "./canvas.ts";
import { openPage, type Page, planPage } from "./chart.ts";
import type { ChartOptions } from "./chart-types.ts";
import { factsTold } from "./describe.ts";
import { add, rounded } from "./draw.ts";
import type { LegendItem } from "./legend.ts";
import { shorten, textWidth } from "./text.ts";
import { formatNumber } from "./time-format.ts";
import { isStacked, layOutTrip, type TripLayout, type TripRow, tripRows } from "./trip-rows.ts";
import type { TripData } from "./trip-types.ts";

/**
 * Where the trip point belongs: on one axis of voltage the band between normal service and the load's limit, with all that pushes its edges,
 * and trip points with what they may land on.
 *
 * @param data band, shares and trip points, V at the protector
 * @param options the document to draw in, size in CSS pixels, colours
 * @returns an element that is not yet part of the document; its `<title>` and `<desc>` tell what it shows
 * @throws RangeError when a side has no shares or a value is not finite; all problems at once
 * @example container.append(tripFigure(tripData(study), { document }));
 */
export function tripFigure(data: TripData, options: ChartOptions): SVGSVGElement {
  check(data);
  const page = planPage(data, options, "trip-figure");
  const layout = layOutTrip(page, data, legendItems(page, data.band.low <= data.band.high));
  const svg = openPage(page, layout.height, description(data));
  const { frame, domain } = layout;
  const scale = scaleLinear([...domain], [frame.left, frame.right]);
  const body = add(svg, "g", { class: "panel trip" });
  drawLegend(page, body, layout.legend);
  drawBand(page, body, layout, scale, data);
  drawAxis(page, body, layout, scale);
  drawMargins(page, body, layout, scale, data);
  for (const { row, y, textY } of layout.rows) {
    const group = add(body, "g", { class: `row ${row.kind}` });
    drawWords(page, group, layout, row, textY);
    drawRow(page, group, scale, row, y);
  }
  return svg;
}

function check({ below, above, points, band, bandRss, window }: TripData): void {
  const numbers = [below, above].flatMap(({ shares }) => shares.map(({ value }) => value));
  const ranges = [band, bandRss, window, ...points, ...points.map(({ rss }) => rss)];
  const problems = [
    ...[below, above].filter(({ shares }) => shares.length === 0).map(({ title }) => `"${title}" has no shares`),
    ...(numbers.every(Number.isFinite) && ranges.every(({ low, high }) => Number.isFinite(low) && Number.isFinite(high))
      ? []
      : ["a voltage is not finite"]),
  ];
  if (problems.length > 0) throw new RangeError(`these data cannot be drawn: ${problems.join("; ")}`);
}

function description(data: TripData): string {
  const told = tripRows(data).map(({ label, value }) => (value === "" ? `${label}:` : `${label}, ${value};`));
  return [data.subtitle, ...factsTold(data), "Voltages at the protector.", ...told].join(" ");
}

function legendItems({ colors, narrow }: Page, exists: boolean): LegendItem[] {
  const area = (text: string, fill: string, color: string): LegendItem => ({
    text,
    value: null,
    color,
    sample: { kind: "area", fill },
  });
  return [
    exists
      ? area("band", colors.band, colors.bandEdge)
      : area("edges crossed", colors.exceedance, colors.exceedanceInk),
    area("makes it narrower", colors.tones.alarm.fill, colors.exceedanceInk),
    area("makes it wider", colors.tones.active.fill, colors.loads[0]),
    {
      text: narrow ? "dashed: varies" : "dashed: varies by itself",
      value: null,
      color: colors.muted,
      sample: { kind: "line", width: 1.4, dash: "3 2" },
    },
    {
      text: narrow ? "thick: root-sum-square" : "thin bar: worst case, thick: root-sum-square",
      value: null,
      color: colors.bandEdge,
      sample: { kind: "line", width: 4, dash: "" },
    },
  ];
}

/** What the first trip point keeps to the edges of the band, where there is room to write it. */
function drawMargins(
  page: Page,
  parent: Element,
  { rows }: TripLayout,
  scale: Scale,
  { band, points }: TripData,
): void {
  const place = rows.find(({ row }) => row.kind === "point");
  const [point] = points;
  if (place === undefined || point === undefined || !point.fits) return;
  const group = add(parent, "g", { class: "margins" });
  for (const [from, to] of [
    [band.low, point.low],
    [point.high, band.high],
  ]) {
    const text = `${Math.round((to - from) * 1e3)} mV`;
    const [left, right] = [scale(from), scale(to)];
    if (right - left < textWidth(text, 12) + 6) continue;
    write(page, group, (left + right) / 2, place.y, text, { anchor: "middle", color: page.colors.bandEdge });
  }
}

type Scale = ScaleLinear<number, number>;

/** The band stands behind everything; where its edges have crossed, what lies between them is no place for a trip point. */
function drawBand(page: Page, parent: Element, { frame }: TripLayout, scale: Scale, { band }: TripData): void {
  const { colors } = page;
  const exists = band.low <= band.high;
  const [from, to] = exists ? [band.low, band.high] : [band.high, band.low];
  add(parent, "rect", {
    class: exists ? "band" : "no-band",
    x: scale(from),
    y: frame.top,
    width: Math.max(1, scale(to) - scale(from)),
    height: frame.bottom - frame.top,
    fill: exists ? colors.band : colors.exceedance,
    "fill-opacity": exists ? 1 : 0.35,
  });
}

function drawAxis(page: Page, parent: Element, { frame }: TripLayout, scale: Scale): void {
  const { colors } = page;
  const y = frame.bottom + 13;
  let end = frame.left;
  for (const tick of scale.ticks(Math.max(2, Math.floor((frame.right - frame.left) / 60)))) {
    const x = scale(tick);
    verticalLine(parent, x, frame.top, frame.bottom, { stroke: colors.grid });
    const text = formatNumber(tick, 6);
    const half = textWidth(text, 12) / 2;
    if (x - half < end || x + half > frame.right) continue;
    write(page, parent, x, y, text, { anchor: "middle", color: colors.muted });
    end = x + half + 8;
  }
  add(parent, "path", {
    d: `M${rounded(frame.left)},${rounded(frame.bottom)}H${rounded(frame.right)}`,
    stroke: colors.axis,
  });
  write(page, parent, frame.left, y + 19, "Voltage at the protector, V", { bold: true });
}

function drawWords(page: Page, parent: Element, layout: TripLayout, row: TripRow, y: number): void {
  const { colors, left, right } = page;
  const isStrong = row.kind === "heading" || row.kind === "edge";
  const color = row.kind === "point" ? (row.point.fits ? colors.bandEdge : colors.exceedanceInk) : colors.ink;
  const indent = row.kind === "heading" ? 0 : 10;
  const valueRoom = row.value === "" ? 0 : textWidth(row.value, 12, isStrong) + 10;
  const room = isStacked(page) ? right - left - indent - valueRoom : layout.labelRoom - indent;
  write(page, parent, left + indent, y, shorten(row.label, 12, room, isStrong), { bold: isStrong, color });
  if (row.value !== "") write(page, parent, right, y, row.value, { anchor: "end", bold: isStrong, color });
}

function drawRow(page: Page, parent: Element, scale: Scale, row: TripRow, y: number): void {
  const { colors, weight } = page;
  switch (row.kind) {
    case "heading":
      return;
    case "start":
      verticalLine(parent, scale(row.at), y - 6, y + 6, { stroke: colors.ink, "stroke-width": 2 * weight });
      return;
    case "step": {
      const { fill } = row.takes ? colors.tones.alarm : colors.tones.active;
      const edge = row.takes ? colors.exceedanceInk : colors.loads[0];
      const [a, b] = [scale(Math.min(row.from, row.to)), scale(Math.max(row.from, row.to))];
      add(parent, "rect", {
        x: a,
        y: y - 5,
        width: Math.max(1, b - a),
        height: 10,
        fill,
        stroke: edge,
        "stroke-width": 1 * weight,
        ...(row.spread ? { "stroke-dasharray": "3 2" } : {}),
      });
      return;
    }
    case "edge":
      verticalLine(parent, scale(row.at), y - 8, y + 8, { stroke: colors.bandEdge, "stroke-width": 3 * weight });
      // Where not everything is at its worst at once.
      verticalLine(parent, scale(row.rss), y - 5, y + 5, {
        stroke: colors.bandEdge,
        "stroke-width": 1.2 * weight,
        "stroke-dasharray": "2 2",
      });
      return;
    case "window":
      if (row.range.low > row.range.high) return;
      add(parent, "rect", {
        x: scale(row.range.low),
        y: y - 5,
        width: Math.max(1, scale(row.range.high) - scale(row.range.low)),
        height: 10,
        fill: colors.bandEdge,
      });
      return;
    case "point":
      drawPoint(page, parent, scale, row.point, y);
  }
}

function drawPoint(page: Page, parent: Element, scale: Scale, point: TripData["points"][number], y: number): void {
  const { colors, weight } = page;
  const color = point.fits ? colors.bandEdge : colors.exceedanceInk;
  const bar = (from: number, to: number, width: number): void => {
    add(parent, "path", {
      d: `M${rounded(scale(from))},${rounded(y)}H${rounded(scale(to))}`,
      stroke: color,
      "stroke-width": width * weight,
    });
  };
  bar(point.low, point.high, 1.6);
  bar(point.rss.low, point.rss.high, 5);
  for (const end of [point.low, point.high])
    verticalLine(parent, scale(end), y - 6, y + 6, { stroke: color, "stroke-width": 1.6 * weight });
  add(parent, "circle", {
    cx: scale(point.nominal),
    cy: y,
    r: 4.5,
    fill: colors.ground,
    stroke: color,
    "stroke-width": 2 * weight,
  });
}
