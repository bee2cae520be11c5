import { area, line } from "d3";
import type { Stretch } from "./curve.ts";
import { add, type Frame, rounded } from "./draw.ts";
import { type Envelope, separate } from "./envelope.ts";
import { legendTextLeft, legendType, lineHeight, type PlacedItem, sampleWidth } from "./legend.ts";
import type { LineStyle, Palette } from "./palette.ts";
import { textWidth } from "./text.ts";
import type { TimeAxis } from "./time-axis.ts";
import type { ValueScale } from "./value-scale.ts";

/** What every part of the picture is drawn with. */
export interface Canvas {
  readonly root: Element;
  readonly colors: Palette;
  readonly axis: TimeAxis;
  /** Prefix of ids. */
  readonly id: string;
}

/** What text and legends are drawn with. */
export type Pen = Pick<Canvas, "colors">;

/** Height above its baseline at which a line of type looks centred, as a share of its size. */
const capMiddle = 0.36;

export interface TextStyle {
  readonly size?: number;
  readonly bold?: boolean;
  readonly color?: string;
  readonly anchor?: "start" | "middle" | "end";
  /** A rim in the ground's colour where lines may pass behind. */
  readonly halo?: boolean;
}

/** Writes a line of text with its middle at `y`. */
export function write(canvas: Pen, parent: Element, x: number, y: number, text: string, style: TextStyle = {}): void {
  const size = style.size ?? legendType;
  const halo = { stroke: canvas.colors.ground, "stroke-width": 3, "stroke-linejoin": "round", "paint-order": "stroke" };
  add(
    parent,
    "text",
    {
      x,
      y: y + capMiddle * size,
      "font-size": size,
      fill: style.color ?? canvas.colors.ink,
      "text-anchor": style.anchor ?? "start",
      ...(style.bold ? { "font-weight": "bold" } : {}),
      ...(style.halo ? halo : {}),
    },
    text,
  );
}

/** Grid lines with their numbers left of the frame, and a tick for each time label. */
export function drawGrid(canvas: Canvas, parent: Element, frame: Frame, scale: ValueScale): void {
  const { colors, axis } = canvas;
  for (const tick of axis.ticks) verticalLine(parent, tick.x, frame.top, frame.bottom, { stroke: colors.grid });
  for (const tick of scale.ticks) {
    const y = rounded(tick.y);
    add(parent, "path", { d: `M${rounded(frame.left)},${y}H${rounded(frame.right)}`, stroke: colors.grid });
    write(canvas, parent, frame.left - 8, tick.y, tick.label, { anchor: "end", color: colors.muted });
  }
}

export function verticalLine(
  parent: Element,
  x: number,
  top: number,
  bottom: number,
  attributes: Readonly<Record<string, string | number>>,
): void {
  add(parent, "path", { d: `M${rounded(x)},${rounded(top)}V${rounded(bottom)}`, fill: "none", ...attributes });
}

/** A line; where it swings faster than pixels can tell, a pale area from its lowest to its highest value. */
export function drawCurve(
  parent: Element,
  parts: readonly Stretch[],
  scale: ValueScale,
  style: LineStyle,
  name: string,
): void {
  const { lines, envelopes } = separate(parts, scale.domain[1] - scale.domain[0]);
  const group = add(parent, "g", {
    class: "curve",
    fill: "none",
    stroke: style.color,
    "stroke-width": style.width,
    "stroke-linejoin": "round",
    ...(style.dash === "" ? {} : { "stroke-dasharray": style.dash }),
  });
  add(group, "title", {}, name);
  for (const envelope of envelopes) {
    add(group, "path", { d: envelopePath(envelope, scale), fill: style.color, "fill-opacity": 0.12, stroke: "none" });
    add(group, "path", { d: edgePath(envelope.x, envelope.high, scale) + edgePath(envelope.x, envelope.low, scale) });
  }
  const path = lines.map((part) => edgePath(part.x, part.values, scale)).join("");
  if (path !== "") add(group, "path", { d: path });
}

function envelopePath({ x, low, high }: Envelope, scale: ValueScale): string {
  const shape = area<number>()
    .x((i) => x[i])
    .y0((i) => scale.position(low[i]))
    .y1((i) => scale.position(high[i]))
    .digits(2);
  return shape(x.keys()) ?? "";
}

function edgePath(x: ArrayLike<number>, values: ArrayLike<number>, scale: ValueScale): string {
  const path = line<number>()
    .x((i) => x[i])
    .y((i) => scale.position(values[i]))
    .digits(2);
  return path(Array.from(x, (_, i) => i)) ?? "";
}

/** Names beside (or above) a panel, each behind a sample of its line or area. */
export function drawLegend(canvas: Pen, parent: Element, items: readonly PlacedItem[]): void {
  for (const placed of items) {
    const { item, lines, x, y } = placed;
    const { sample } = item;
    if (sample.kind === "area") {
      add(parent, "rect", { x, y: y - 5, width: sampleWidth, height: 10, fill: sample.fill, stroke: item.color });
    } else if (sample.kind === "line") {
      add(parent, "path", {
        d: `M${rounded(x)},${rounded(y)}h${sampleWidth}`,
        fill: "none",
        stroke: item.color,
        "stroke-width": sample.width,
        ...(sample.dash === "" ? {} : { "stroke-dasharray": sample.dash }),
      });
    }
    for (const [i, text] of lines.entries()) {
      write(canvas, parent, x + legendTextLeft(item), y + i * lineHeight, text, { color: item.color });
    }
  }
}

/** A number in a ring, wide enough for its label; the same in the picture and in the list below it. */
export function drawBadge(canvas: Canvas, parent: Element, x: number, y: number, label: string): void {
  const width = badgeWidth(label);
  const { colors } = canvas;
  add(parent, "rect", { x: x - width / 2, y: y - 8, width, height: 16, rx: 8, fill: colors.ink });
  write(canvas, parent, x, y, label, { anchor: "middle", bold: true, color: colors.ground });
}

export function badgeWidth(label: string): number {
  return Math.max(16, textWidth(label, legendType, true) + 8);
}
