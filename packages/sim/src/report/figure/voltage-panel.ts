import { area } from "d3";
import { type Canvas, drawCurve, drawGrid } from "./canvas.ts";
import { type Stretch, stretches, valueExtent, withCrossings } from "./curve.ts";
import { add, type Frame, rounded } from "./draw.ts";
import type { LegendItem } from "./legend.ts";
import { heavier, type LineStyle, type Look, type Palette, voltageStyle } from "./palette.ts";
import { unbroken } from "./text.ts";
import type { TimeAxis } from "./time-axis.ts";
import { formatNumber } from "./time-format.ts";
import type { VoltageCurve, WaveformData } from "./types.ts";
import type { ValuePanel } from "./value-panel.ts";
import { linearScale, type ValueScale } from "./value-scale.ts";

interface Drawn {
  readonly curve: VoltageCurve;
  readonly style: LineStyle;
  readonly parts: readonly Stretch[];
}

/**
 * Samples the curves along the axis and words the legend.
 * @param shared lowest and highest value to make room for, V; null: what is drawn decides
 */
export function voltagePanel(
  data: WaveformData,
  axis: TimeAxis,
  look: Look,
  shared: readonly [number, number] | null,
): ValuePanel {
  const curves = styled(data, axis, look);
  const { minimum, maximum } = data.window;
  const loads = curves.filter(({ curve }) => curve.role === "load");
  const exceeded = loads.some(({ parts }) => valueExtent(parts)[1] > maximum);
  const drawn = shared ?? valueExtent(curves.flatMap(({ parts }) => parts));
  const extent = [Math.min(drawn[0], minimum), Math.max(drawn[1], maximum)] as const;
  return {
    name: "voltage",
    heading: "Voltage, V",
    legend: legendOf(data, curves, look.colors, exceeded),
    least: { wide: 120, narrow: 190 },
    share: 0.6,
    scale: (frame) => linearScale(extent, frame),
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

const order = ["load", "protector", "supply"] as const;

function styled(data: WaveformData, axis: TimeAxis, { colors, weight }: Look): Drawn[] {
  return order.flatMap((role) =>
    data.voltages
      .filter((curve) => curve.role === role)
      .map((curve, i) => ({
        curve,
        style: heavier(voltageStyle(colors, role, i), weight),
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
