import { area } from "d3";
import { type Canvas, drawCurve, drawGrid } from "./canvas.ts";
import { type Stretch, stretches, valueExtent, withCrossings } from "./curve.ts";
import { add, type Frame, rounded } from "./draw.ts";
import type { LegendItem } from "./legend.ts";
import { type LineStyle, type Palette, voltageStyle } from "./palette.ts";
import { unbroken } from "./text.ts";
import type { TimeAxis } from "./time-axis.ts";
import { formatNumber } from "./time-format.ts";
import type { VoltageCurve, WaveformData } from "./types.ts";
import { linearScale, type ValueScale } from "./value-scale.ts";

interface Drawn {
  readonly curve: VoltageCurve;
  readonly style: LineStyle;
  readonly parts: readonly Stretch[];
}

/** The voltage panel before its place on the page is known. */
export interface VoltagePanel {
  readonly extent: readonly [number, number];
  readonly exceeded: boolean;
  readonly legend: readonly LegendItem[];
  drawGround(canvas: Canvas, parent: Element, frame: Frame, scale: ValueScale): void;
  drawCurves(parent: Element, frame: Frame, scale: ValueScale): void;
}

/** Samples the curves along the axis and words the legend. */
export function voltagePanel(data: WaveformData, axis: TimeAxis, colors: Palette): VoltagePanel {
  const curves = styled(data, axis, colors);
  const { minimum, maximum } = data.window;
  const loads = curves.filter(({ curve }) => curve.role === "load");
  const exceeded = loads.some(({ parts }) => valueExtent(parts)[1] > maximum);
  const extent = valueExtent(curves.flatMap(({ parts }) => parts));
  return {
    extent: [Math.min(extent[0], minimum), Math.max(extent[1], maximum)],
    exceeded,
    legend: legendOf(data, curves, colors, exceeded),
    drawGround: (canvas, parent, frame, scale) => {
      drawBand(canvas, parent, frame, scale, data.window);
      drawGrid(canvas, parent, frame, scale);
      if (exceeded) drawExceedance(canvas, parent, loads, scale, maximum);
      drawBandEdges(canvas, parent, frame, scale, data.window);
    },
    drawCurves: (parent, _frame, scale) => {
      // The radio's own curve lies on top of the others.
      for (const { curve, parts, style } of [...curves].reverse()) {
        drawCurve(parent, parts, scale, style, `${curve.label}, V`);
      }
    },
  };
}

export function voltageScale(panel: VoltagePanel, frame: Frame): ValueScale {
  return linearScale(panel.extent, frame);
}

const order = ["load", "protector", "supply"] as const;

function styled(data: WaveformData, axis: TimeAxis, colors: Palette): Drawn[] {
  return order.flatMap((role) =>
    data.voltages
      .filter((curve) => curve.role === role)
      .map((curve, i) => ({
        curve,
        style: voltageStyle(colors, role, i),
        parts: stretches(axis, data.time, curve.values),
      })),
  );
}

function legendOf(data: WaveformData, curves: readonly Drawn[], colors: Palette, exceeded: boolean): LegendItem[] {
  const { minimum, maximum } = data.window;
  const items: LegendItem[] = curves.map(({ curve, style, parts }) => ({
    text:
      curve.role === "load"
        ? `${curve.label}, peak ${unbroken(`${formatNumber(valueExtent(parts)[1])} V`)}`
        : curve.label,
    value: lastValue(parts),
    color: style.color,
    sample: { kind: "line", width: style.width, dash: style.dash },
  }));
  items.push({
    text: `allowed ${unbroken(`${formatNumber(minimum)}–${formatNumber(maximum)} V`)}`,
    value: (minimum + maximum) / 2,
    color: colors.bandEdge,
    sample: { kind: "area", fill: colors.band },
  });
  if (exceeded) {
    items.push({
      text: "above what is allowed",
      value: maximum,
      color: colors.exceedanceInk,
      sample: { kind: "area", fill: colors.exceedance },
    });
  }
  return items;
}

function lastValue(parts: readonly Stretch[]): number | null {
  const last = parts[parts.length - 1];
  return last ? last.values[last.values.length - 1] : null;
}

function drawBand(canvas: Canvas, parent: Element, frame: Frame, scale: ValueScale, window: WaveformData["window"]) {
  const top = scale.position(window.maximum);
  add(parent, "rect", {
    class: "allowed",
    x: frame.left,
    y: top,
    width: frame.right - frame.left,
    height: scale.position(window.minimum) - top,
    fill: canvas.colors.band,
  });
}

function drawBandEdges(
  canvas: Canvas,
  parent: Element,
  frame: Frame,
  scale: ValueScale,
  window: WaveformData["window"],
) {
  for (const limit of [window.minimum, window.maximum]) {
    const d = `M${rounded(frame.left)},${rounded(scale.position(limit))}H${rounded(frame.right)}`;
    add(parent, "path", { d, fill: "none", stroke: canvas.colors.bandEdge, "stroke-width": 0.8 });
  }
}

/** Shaded and hatched, so that it shows without colour too. */
function drawExceedance(
  canvas: Canvas,
  parent: Element,
  loads: readonly Drawn[],
  scale: ValueScale,
  maximum: number,
): void {
  const hatch = `${canvas.id}-above`;
  const pattern = add(parent, "pattern", {
    id: hatch,
    width: 6,
    height: 6,
    patternUnits: "userSpaceOnUse",
    patternTransform: "rotate(45)",
  });
  add(pattern, "rect", { width: 6, height: 6, fill: canvas.colors.exceedance });
  add(pattern, "rect", { width: 1.2, height: 6, fill: canvas.colors.exceedanceInk, "fill-opacity": 0.45 });
  for (const { parts } of loads) {
    const d = parts.map((part) => areaAbove(withCrossings(part, maximum), scale, maximum)).join("");
    if (d !== "") add(parent, "path", { class: "exceedance", d, fill: `url(#${hatch})` });
  }
}

function areaAbove(part: Stretch, scale: ValueScale, level: number): string {
  const shape = area<number>()
    .defined((i) => part.values[i] >= level)
    .x((i) => part.x[i])
    .y0(scale.position(level))
    .y1((i) => scale.position(part.values[i]))
    .digits(2);
  return shape(part.x.keys()) ?? "";
}
