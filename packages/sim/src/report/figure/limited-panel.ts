import { drawCurve, drawGrid } from "./canvas.ts";
import { type Stretch, stretches, valueExtent } from "./curve.ts";
import { add, type Frame, rounded } from "./draw.ts";
import type { LegendItem } from "./legend.ts";
import { currentStyle, heavier, type LineStyle, type Look } from "./palette.ts";
import { unbroken } from "./text.ts";
import type { TimeAxis } from "./time-axis.ts";
import { formatNumber } from "./time-format.ts";
import type { CurrentCurve } from "./types.ts";
import type { ValuePanel } from "./value-panel.ts";
import { compressedScale, compressionOf, linearScale, type ValueScale } from "./value-scale.ts";

/** One curve and the levels that it should not pass. */
export interface LimitedCurve {
  /** What the curve is called in the legend. */
  readonly label: string;
  /** One for each of the figure's times, in the panel's unit. */
  readonly values: Float64Array;
  /** In the panel's unit, each with its words. */
  readonly limits: readonly NonNullable<CurrentCurve["limit"]>[];
}

/** What a panel of such curves is. */
export interface LimitedContent {
  readonly name: string;
  readonly heading: string;
  readonly unit: string;
  readonly share: number;
  /** Lowest value that is always on the scale. */
  readonly floor: number;
  /** A limit farther above the curves than this many times their highest value is told, not drawn. */
  readonly reach: number;
  /** Values above it are beyond what the model knows of; they run along the upper edge. Null: all are drawn. */
  readonly ceiling: number | null;
  /** Whether a spike that would press the rest flat compresses the scale. */
  readonly compresses: boolean;
  readonly curves: readonly LimitedCurve[];
  /** How many curves of other panels come before these: lines differ over the whole figure. */
  readonly order: number;
}

interface Drawn {
  readonly curve: LimitedCurve;
  readonly style: LineStyle;
  readonly parts: readonly Stretch[];
  /** The value of largest size, with its sign. */
  readonly peak: number;
}

interface Limit {
  readonly text: string;
  readonly value: number;
  readonly color: string;
  readonly width: number;
  readonly onScale: boolean;
}

const limitDash = "1.5 3";

/**
 * Samples the curves along the axis and words the legend.
 * @param shared lowest and highest value to make room for; null: what is drawn decides
 */
export function limitedPanel(
  content: LimitedContent,
  time: Float64Array,
  axis: TimeAxis,
  look: Look,
  shared: readonly [number, number] | null,
): ValuePanel {
  const curves = content.curves.map((curve, i): Drawn => {
    const style = heavier(currentStyle(look.colors, content.order + i), look.weight);
    const parts = stretches(axis, time, curve.values);
    return { curve, style, parts: cutAt(parts, content.ceiling), peak: peakOf(parts) };
  });
  const [low, high] = shared ?? valueExtent(curves.flatMap(({ parts }) => parts));
  const knee = shared === null && content.compresses ? compressionOf(curves.map(({ parts }) => parts)) : null;
  const limits = limitsOf(content, curves, high, look.weight);
  const shown = limits.filter((limit) => limit.onScale).map((limit) => limit.value);
  const extent = [Math.min(low, content.floor), shared === null ? Math.max(high, ...shown) : high] as const;
  return {
    name: content.name,
    heading: content.heading,
    legend: legendOf(content, curves, limits, knee, look),
    least: { wide: 90, narrow: 90 },
    share: content.share,
    scale: (frame) => (knee === null ? linearScale(extent, frame) : compressedScale(extent, knee, frame)),
    drawGround: drawGrid,
    drawCurves: (parent, frame, scale) => {
      for (const limit of limits) if (limit.value <= scale.domain[1]) drawLimit(parent, frame, scale, limit);
      for (const { curve, parts, style } of curves) {
        drawCurve(parent, parts, scale, style, `${curve.label}, ${content.unit}`);
      }
    },
  };
}

function limitsOf({ unit, reach }: LimitedContent, curves: readonly Drawn[], highest: number, weight: number): Limit[] {
  const limits = new Map<string, Limit>();
  for (const { curve, style } of curves) {
    for (const { label, value } of curve.limits) {
      const text = `${label} ${unbroken(`${formatNumber(value)} ${unit}`)}`;
      const onScale = value <= reach * highest;
      if (!limits.has(text)) limits.set(text, { text, value, color: style.color, width: 1.4 * weight, onScale });
    }
  }
  return [...limits.values()];
}

function legendOf(
  { unit, ceiling }: LimitedContent,
  curves: readonly Drawn[],
  limits: readonly Limit[],
  knee: number | null,
  { colors }: Look,
): LegendItem[] {
  const lines: LegendItem[] = curves.map(({ curve, style, parts, peak }) => ({
    text:
      ceiling !== null && peak > ceiling
        ? `${curve.label}, beyond the scale`
        : `${curve.label}, peak ${unbroken(`${formatNumber(peak)} ${unit}`)}`,
    value: lastValue(parts),
    color: style.color,
    sample: { kind: "line", width: style.width, dash: style.dash },
  }));
  const levels: LegendItem[] = limits.map((limit) => ({
    text: limit.onScale ? limit.text : `${limit.text}, beyond the scale`,
    value: limit.value,
    color: limit.color,
    sample: limit.onScale ? { kind: "line", width: limit.width, dash: limitDash } : { kind: "none" },
  }));
  if (knee === null) return [...lines, ...levels];
  const note = `compressed above ${unbroken(`${formatNumber(knee)} ${unit}`)}`;
  return [...lines, ...levels, { text: note, value: null, color: colors.muted, sample: { kind: "none" } }];
}

function cutAt(parts: readonly Stretch[], ceiling: number | null): readonly Stretch[] {
  if (ceiling === null) return parts;
  return parts.map(({ x, values }) => ({ x, values: values.map((value) => Math.min(value, ceiling)) }));
}

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
  const attributes = { class: "limit", d, fill: "none", stroke: limit.color, "stroke-width": limit.width };
  add(add(parent, "path", { ...attributes, "stroke-dasharray": limitDash }), "title", {}, limit.text);
}
