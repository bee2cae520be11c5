import { type Canvas, drawCurve, drawGrid, write } from "./canvas.ts";
import type { CaptureFigureChannel, CaptureFigureData } from "./capture-types.ts";
import { openPage, outer, type Page, planPage } from "./chart.ts";
import type { ChartOptions } from "./chart-types.ts";
import { stretches } from "./curve.ts";
import { factsTold } from "./describe.ts";
import { add, type Frame, rounded } from "./draw.ts";
import { heavier, type LineStyle } from "./palette.ts";
import { shorten, textWidth } from "./text.ts";
import { linearTimeAxis } from "./time-axis.ts";
import { formatNumber } from "./time-format.ts";
import { linearScale } from "./value-scale.ts";

const LEAST = 120;
const HEADING = 22;
const GAP = 14;
const AXIS = 40;
const LETTERS = 12;

/**
 * A capture as it was recorded: a panel for each channel over one axis of time, with the levels that it is held against and its highest value. Lowest and highest
 * values stay in the picture, however many samples there are; gaps stay open.
 *
 * @param data curves, V or A over s
 * @param options the document to draw in, size in CSS pixels, colours
 * @returns an element that is not yet part of the document; its `<title>` and `<desc>` tell what it shows
 * @throws RangeError where there is no channel, or the axis has no length
 * @example container.append(captureFigure(captureData(capture, judgeCapture(capture, limits)), { document }));
 */
export function captureFigure(data: CaptureFigureData, options: ChartOptions): SVGSVGElement {
  check(data);
  const page = planPage(data, options, "capture-figure");
  const { frames, height } = layOut(page, data.channels.length);
  const svg = openPage(page, height, description(data));
  const { from, to } = data;
  const [first] = frames;
  const axis = linearTimeAxis({ from, to, left: first.left, right: first.right }, 0, "start");
  const canvas: Canvas = { root: svg, colors: page.colors, axis, id: page.id };
  for (const [k, channel] of data.channels.entries()) drawChannel(canvas, page, channel, frames[k], k);
  const { bottom, right } = frames[frames.length - 1];
  for (const tick of axis.ticks)
    write(page, svg, tick.labelX, bottom + 12, tick.label, { anchor: "middle", color: page.colors.muted });
  const title = axis.title.startsWith("Time from") ? axis.title : "Time as recorded";
  write(page, svg, right, bottom + 28, title, { anchor: "end", color: page.colors.muted });
  return svg;
}

function check({ channels, from, to }: CaptureFigureData): void {
  const problems = [
    ...(channels.length === 0 ? ["there is no channel"] : []),
    ...(to > from ? [] : [`the axis goes from ${from} s to ${to} s`]),
  ];
  if (problems.length > 0) throw new RangeError(`these data cannot be drawn: ${problems.join("; ")}`);
}

function description(data: CaptureFigureData): string {
  const channels = data.channels.map((channel) => {
    const extent = extentOf(channel);
    if (extent === null) return `${channel.label}: nothing was recorded here.`;
    return `${channel.label}: from ${formatNumber(extent[0], 4)} to ${formatNumber(extent[1], 4)} ${channel.unit}.`;
  });
  return [data.subtitle, ...factsTold(data), ...channels].join(" ");
}

/** Null where there is no sample. */
function extentOf({ pieces }: CaptureFigureChannel): readonly [low: number, high: number] | null {
  let [low, high] = [Infinity, -Infinity];
  for (const { values } of pieces)
    for (const value of values) {
      low = Math.min(low, value);
      high = Math.max(high, value);
    }
  return low <= high ? [low, high] : null;
}

function layOut(page: Page, count: number): { frames: readonly Frame[]; height: number } {
  const top = page.top + 2;
  const each = Math.max(HEADING + LEAST + GAP, (page.height - outer - AXIS - top) / count);
  const sides = { left: page.left + 52, right: page.right - 8 };
  const frames = Array.from({ length: count }, (_, k) => {
    const start = top + k * each + HEADING;
    return { ...sides, top: start, bottom: start + each - HEADING - GAP };
  });
  return { frames, height: Math.ceil(Math.max(page.height, frames[count - 1].bottom + AXIS + outer / 2)) };
}

function drawChannel(canvas: Canvas, page: Page, channel: CaptureFigureChannel, frame: Frame, index: number): void {
  const { colors, axis, root } = canvas;
  const { label, unit, pieces, levels, highest } = channel;
  const group = add(root, "g", { class: "panel" });
  const room = frame.right - frame.left + 52;
  write(canvas, group, frame.left - 52, frame.top - HEADING / 2, shorten(`${label}, ${unit}`, LETTERS, room, true), {
    bold: true,
  });
  const [low, high] = extentOf(channel) ?? [0, 1];
  // A level far beyond the curve would press it flat: it is told beside the name instead.
  const span = Math.max(high - low, 1e-9);
  const near = levels.filter(({ value }) => value > low - span && value < high + span);
  const scale = linearScale(
    [Math.min(low, ...near.map(({ value }) => value)), Math.max(high, ...near.map(({ value }) => value))],
    frame,
  );
  drawGrid(canvas, group, frame, scale);
  const color =
    unit === "V" ? colors.loads[index % colors.loads.length] : colors.currents[index % colors.currents.length];
  const style: LineStyle = heavier({ color, width: 1.4, dash: "" }, page.weight);
  const drawn = pieces.flatMap(({ time, values }) => stretches(axis, time, values));
  drawCurve(group, drawn, scale, style, label);
  for (const { value } of near)
    add(group, "path", {
      d: `M${rounded(frame.left)},${rounded(scale.position(value))}H${rounded(frame.right)}`,
      stroke: colors.exceedanceInk,
      "stroke-width": 1.2 * page.weight,
      "stroke-dasharray": "5 3",
      fill: "none",
    });
  // Beside the name, where no curve passes.
  const told = levels.map(({ label: level }) => level).join(", ");
  if (told !== "" && textWidth(`${label}, ${unit}${told}`, LETTERS) < room - 24)
    write(canvas, group, frame.right, frame.top - HEADING / 2, told, { anchor: "end", color: colors.exceedanceInk });
  const lines = near.map(({ value }) => scale.position(value));
  if (highest !== null) drawHighest(canvas, group, highest, frame, scale.position(highest.value), lines);
}

function drawHighest(
  canvas: Canvas,
  parent: Element,
  { time, label }: NonNullable<CaptureFigureChannel["highest"]>,
  frame: Frame,
  y: number,
  lines: readonly number[],
): void {
  const { colors, axis } = canvas;
  const x = axis.position(time);
  add(parent, "circle", {
    cx: rounded(x),
    cy: rounded(y),
    r: 3.5,
    fill: "none",
    stroke: colors.ink,
    "stroke-width": 1.4,
  });
  const width = textWidth(label, LETTERS);
  const onRight = x + 8 + width < frame.right;
  // Where no line runs through it.
  const places = [y - 10, y + 2, y + 14, y + 26].filter((at) => at > frame.top + 6 && at < frame.bottom - 6);
  const place = places.find((at) => lines.every((each) => Math.abs(each - at) > LETTERS - 3)) ?? y + 14;
  write(canvas, parent, onRight ? x + 8 : x - 8, place, label, {
    anchor: onRight ? "start" : "end",
    bold: true,
    halo: true,
  });
}
