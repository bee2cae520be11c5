import { type Canvas, drawCurve, drawGrid, write } from "./canvas.ts";
import type { CaptureFigureChannel, CaptureFigureData } from "./capture-types.ts";
import { openPage, outer, type Page, panelsWithin, planPage, tellLeftOut } from "./chart.ts";
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
/** The same on a slide, which does not grow. */
const CLOSE = 60;
const HEADING = 22;
/** A second line of the heading, where the first has no room for all of it. */
const LINE = 16;
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
  const headings = data.channels.map((channel) => headingOf(channel, page.right - page.left - 8));
  const { kept, frames, height } = layOut(page, data, headings);
  const svg = openPage(page, height, description(data));
  const { from, to } = data;
  const [first] = frames;
  const axis = linearTimeAxis({ from, to, left: first.left, right: first.right }, 0, "start");
  const canvas: Canvas = { root: svg, colors: page.colors, axis, id: page.id };
  for (const [i, k] of kept.entries()) drawChannel(canvas, page, data.channels[k], headings[k], frames[i], k);
  const { bottom, right } = frames[frames.length - 1];
  for (const tick of axis.ticks)
    write(page, svg, tick.labelX, bottom + 12, tick.label, { anchor: "middle", color: page.colors.muted });
  const title = axis.title.startsWith("Time from") ? axis.title : "Time as recorded";
  write(page, svg, right, bottom + 28, title, { anchor: "end", color: page.colors.muted });
  const unshown = data.channels.filter((_, k) => !kept.includes(k)).map(({ label }) => label);
  tellLeftOut(page, svg, bottom + 28, unshown);
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

interface Heading {
  /** Name and unit. */
  readonly name: string;
  /** The highest value, beside the name or below it; null: none in sight. */
  readonly highest: string | null;
  /** The levels that it is held against; empty: none, or no room. */
  readonly told: string;
  readonly lines: 1 | 2;
}

const BETWEEN = 24;
/** Before the highest value, as it stands on the curve. */
const RING = 12;

/** All words stand above the plot: in it a curve or a level may pass anywhere, and words would cover it. */
function headingOf({ label, unit, levels, highest }: CaptureFigureChannel, room: number): Heading {
  const name = shorten(`${label}, ${unit}`, LETTERS, room, true);
  const width = textWidth(name, LETTERS, true) + BETWEEN;
  const words = levels.map((level) => level.label).join(", ");
  const told = width + textWidth(words, LETTERS) < room ? words : "";
  const peak = highest === null ? null : shorten(highest.label, LETTERS, room - RING, true);
  const all =
    width + textWidth(told, LETTERS) + (told === "" ? 0 : BETWEEN) + RING + textWidth(peak ?? "", LETTERS, true);
  return { name, highest: peak, told, lines: peak === null || all < room ? 1 : 2 };
}

function layOut(
  page: Page,
  { channels }: CaptureFigureData,
  headings: readonly Heading[],
): { kept: readonly number[]; frames: readonly Frame[]; height: number } {
  const top = page.top + 2;
  const heading = HEADING + (headings.some(({ lines }) => lines > 1) ? LINE : 0);
  const room = page.height - outer - AXIS - top;
  const ranks = channels.map(({ rank }) => rank);
  const kept = panelsWithin(page, ranks, room, heading + CLOSE + GAP);
  const count = kept.length;
  const each = Math.max(heading + (page.fixed ? 0 : LEAST) + GAP, room / count);
  const sides = { left: page.left + 52, right: page.right - 8 };
  const frames = kept.map((_, k) => {
    const start = top + k * each + heading;
    return { ...sides, top: start, bottom: start + each - heading - GAP };
  });
  return { kept, frames, height: Math.ceil(Math.max(page.height, frames[count - 1].bottom + AXIS + outer / 2)) };
}

function drawChannel(
  canvas: Canvas,
  page: Page,
  channel: CaptureFigureChannel,
  heading: Heading,
  frame: Frame,
  index: number,
): void {
  const { colors, axis, root } = canvas;
  const { label, unit, pieces, levels, highest } = channel;
  const group = add(root, "g", { class: "panel" });
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
  drawHeading(canvas, group, heading, frame);
  if (highest !== null) drawRing(canvas, group, axis.position(highest.time), scale.position(highest.value));
}

function drawHeading(canvas: Canvas, parent: Element, { name, highest, told, lines }: Heading, frame: Frame): void {
  const left = frame.left - 52;
  const last = frame.top - HEADING / 2;
  const first = last - (lines - 1) * LINE;
  write(canvas, parent, left, first, name, { bold: true });
  write(canvas, parent, frame.right, first, told, { anchor: "end", color: canvas.colors.exceedanceInk });
  if (highest === null) return;
  const x = left + (lines > 1 ? 0 : textWidth(name, LETTERS, true) + BETWEEN);
  drawRing(canvas, parent, x + 4, last);
  write(canvas, parent, x + RING, last, highest, { bold: true });
}

function drawRing({ colors }: Canvas, parent: Element, x: number, y: number): void {
  const place = { cx: rounded(x), cy: rounded(y), r: 3.5 };
  add(parent, "circle", { ...place, fill: "none", stroke: colors.ink, "stroke-width": 1.4 });
}
