import { drawCurve, drawGrid } from "./canvas.ts";
import { type Stretch, stretches, valueExtent } from "./curve.ts";
import { add, type Frame, rounded } from "./draw.ts";
import type { LegendItem } from "./legend.ts";
import { currentStyle, heavier, type LineStyle, type Look, type Palette } from "./palette.ts";
import { unbroken } from "./text.ts";
import type { TimeAxis } from "./time-axis.ts";
import { formatNumber } from "./time-format.ts";
import type { CurrentCurve, WaveformData } from "./types.ts";
import type { ValuePanel } from "./value-panel.ts";
import { compressedScale, compressionOf, linearScale, type ValueScale } from "./value-scale.ts";

interface Drawn {
  readonly curve: CurrentCurve;
  readonly style: LineStyle;
  readonly parts: readonly Stretch[];
}

interface Limit {
  readonly text: string;
  readonly value: number;
  readonly color: string;
  readonly onScale: boolean;
}

const limitDash = "1.5 3";
/** A limit further above the curves than this would press them flat: it is told, not drawn. */
const farAbove = 2.5;

/**
 * Samples the curves along the axis and words the legend.
 * @param shared lowest and highest value to make room for, A; null: what is drawn decides
 */
export function currentPanel(
  data: WaveformData,
  axis: TimeAxis,
  { colors, weight }: Look,
  shared: readonly [number, number] | null,
): ValuePanel {
  const curves = data.currents.map((curve, i) => ({
    curve,
    style: heavier(currentStyle(colors, i), weight),
    parts: stretches(axis, data.time, curve.values),
  }));
  const [low, high] = shared ?? valueExtent(curves.flatMap(({ parts }) => parts));
  const knee = shared === null ? compressionOf(curves.map(({ parts }) => parts)) : null;
  const limits = limitsOf(curves, high);
  const shown = limits.filter((limit) => limit.onScale).map((limit) => limit.value);
  const extent = [Math.min(low, 0), shared === null ? Math.max(high, ...shown) : high] as const;
  return {
    name: "current",
    heading: "Current, A",
    legend: legendOf(curves, limits, knee, colors),
    least: { wide: 90, narrow: 90 },
    share: 0.4,
    scale: (frame) => (knee === null ? linearScale(extent, frame) : compressedScale(extent, knee, frame)),
    drawGround: drawGrid,
    drawCurves: (parent, frame, scale) => {
      for (const limit of limits) if (limit.value <= scale.domain[1]) drawLimit(parent, frame, scale, limit);
      for (const { curve, parts, style } of curves) drawCurve(parent, parts, scale, style, `${curve.label}, A`);
    },
  };
}

function limitsOf(curves: readonly Drawn[], highest: number): Limit[] {
  const limits = new Map<string, Limit>();
  for (const { curve, style } of curves) {
    if (curve.limit === undefined) continue;
    const text = `${curve.limit.label} ${unbroken(`${formatNumber(curve.limit.value)} A`)}`;
    const onScale = curve.limit.value <= farAbove * highest;
    if (!limits.has(text)) limits.set(text, { text, value: curve.limit.value, color: style.color, onScale });
  }
  return [...limits.values()];
}

function legendOf(
  curves: readonly Drawn[],
  limits: readonly Limit[],
  knee: number | null,
  colors: Palette,
): LegendItem[] {
  const lines: LegendItem[] = curves.map(({ curve, style, parts }) => ({
    text: `${curve.label}, peak ${unbroken(`${formatNumber(peakOf(parts))} A`)}`,
    value: lastValue(parts),
    color: style.color,
    sample: { kind: "line", width: style.width, dash: style.dash },
  }));
  const levels: LegendItem[] = limits.map((limit) => ({
    text: limit.onScale ? limit.text : `${limit.text}, beyond the scale`,
    value: limit.value,
    color: limit.color,
    sample: limit.onScale ? { kind: "line", width: 1.4, dash: limitDash } : { kind: "none" },
  }));
  if (knee === null) return [...lines, ...levels];
  const note = `compressed above ${unbroken(`${formatNumber(knee)} A`)}`;
  return [...lines, ...levels, { text: note, value: null, color: colors.muted, sample: { kind: "none" } }];
}

/** The value of largest size, with its sign. */
function peakOf(parts: readonly Stretch[]): number {
  const [low, high] = valueExtent(parts);
  if (!(high >= low)) return 0;
  return -low > high ? low : high;
}

function lastValue(parts: readonly Stretch[]): number | null {
  const last = parts[parts.length - 1];
  return last ? last.values[last.values.length - 1] : null;
}

function drawLimit(parent: Element, frame: Frame, scale: ValueScale, limit: Limit): void {
  const d = `M${rounded(frame.left)},${rounded(scale.position(limit.value))}H${rounded(frame.right)}`;
  const attributes = { class: "limit", d, fill: "none", stroke: limit.color, "stroke-width": 1.4 };
  add(add(parent, "path", { ...attributes, "stroke-dasharray": limitDash }), "title", {}, limit.text);
}
