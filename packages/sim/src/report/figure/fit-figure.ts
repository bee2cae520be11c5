import { formatQuantity } from "../../units/index.ts";
import { type Canvas, drawCurve, drawGrid, drawLegend, write } from "./canvas.ts";
import { openPage, outer, type Page, panelsWithin, planPage, tellLeftOut } from "./chart.ts";
import type { ChartOptions } from "./chart-types.ts";
import { stretches } from "./curve.ts";
import { factsTold } from "./describe.ts";
import { add, type Frame, rounded } from "./draw.ts";
import type { FitFigureChannel, FitFigureData } from "./fit-types.ts";
import { flowLegend, type LegendItem } from "./legend.ts";
import { heavier, type LineStyle, type Palette } from "./palette.ts";
import { shorten } from "./text.ts";
import { linearTimeAxis } from "./time-axis.ts";
import { formatNumber } from "./time-format.ts";
import { linearScale, type ValueScale } from "./value-scale.ts";

const LEAST = 100;
const LEFT_LEAST = 60;
/** Both plots on a slide, which does not grow. */
const CLOSE = 130;
const HEADING = 22;
const GAP = 14;
const AXIS = 40;
/** Left of the plots, for a number with its unit. */
const NUMBERS = 65;

/**
 * A capture over the run that was fitted to it, channel by channel; below each what is left between them, with the band that noise and steps alone would fill.
 *
 * @param data curves, V or A over s of the run
 * @param options the document to draw in, size in CSS pixels, colours
 * @returns an element that is not yet part of the document; its `<title>` and `<desc>` tell what it shows
 * @throws RangeError where there is no channel, or one has fewer than two samples or curves of other lengths
 * @example container.append(fitFigure(fitData(found), { document }));
 */
export function fitFigure(data: FitFigureData, options: ChartOptions): SVGSVGElement {
  check(data);
  const page = planPage(data, options, "fit-figure");
  const styles = stylesOf(page.colors, page.weight);
  const { placed, height: legendHeight } = flowLegend(legendOf(page.colors, styles), page.left, page.right, page.top);
  const top = page.top + legendHeight + 4;
  const { kept, frames, height } = layOut(page, data.channels, top);
  const svg = openPage(page, height, description(data));
  drawLegend(page, svg, placed);
  const channels = kept.map((k) => data.channels[k]);
  const from = Math.min(...channels.map(({ time }) => time[0]));
  const to = Math.max(...channels.map(({ time }) => time[time.length - 1]));
  const [first] = frames;
  const axis = linearTimeAxis({ from, to, left: first.main.left, right: first.main.right }, 0, "start");
  const canvas: Canvas = { root: svg, colors: page.colors, axis, id: page.id };
  for (const [k, channel] of channels.entries()) drawChannel(canvas, channel, frames[k], styles);
  const { bottom, right } = frames[frames.length - 1].left;
  for (const tick of axis.ticks)
    write(page, svg, tick.labelX, bottom + 12, tick.label, { anchor: "middle", color: page.colors.muted });
  write(page, svg, right, bottom + 28, "Time after start of the run", { anchor: "end", color: page.colors.muted });
  const unshown = data.channels.filter((channel) => !channels.includes(channel)).map(({ label }) => label);
  tellLeftOut(page, svg, bottom + 28, unshown);
  return svg;
}

function check({ channels }: FitFigureData): void {
  const problems = [
    ...(channels.length === 0 ? ["there is no channel"] : []),
    ...channels
      .filter(
        ({ time, captured, simulated }) =>
          time.length < 2 || captured.length !== time.length || simulated.length !== time.length,
      )
      .map(({ label }) => `"${label}" has fewer than two samples, or curves of other lengths`),
  ];
  if (problems.length > 0) throw new RangeError(`these data cannot be drawn: ${problems.join("; ")}`);
}

function description(data: FitFigureData): string {
  const channels = data.channels.map(
    ({ label, unit, captured, isBeyondNoise }) =>
      `${label}: captured from ${formatNumber(least(captured), 4)} to ${formatNumber(-least(captured.map((v) => -v)), 4)} ${unit}; what is left ${isBeyondNoise ? "is more than noise" : "is noise"}.`,
  );
  return [data.subtitle, ...factsTold(data), ...channels].join(" ");
}

const least = (values: Float64Array): number => values.reduce((min, value) => Math.min(min, value), Infinity);

interface Styles {
  readonly captured: LineStyle;
  readonly simulated: LineStyle;
  readonly left: LineStyle;
}

function stylesOf(colors: Palette, weight: number): Styles {
  return {
    captured: heavier({ color: colors.loads[0], width: 2.6, dash: "" }, weight),
    simulated: heavier({ color: colors.protector, width: 1.6, dash: "6 3" }, weight),
    left: heavier({ color: colors.currents[0], width: 1.2, dash: "" }, weight),
  };
}

function legendOf(colors: Palette, { captured, simulated, left }: Styles): LegendItem[] {
  const line = (text: string, { color, width, dash }: LineStyle): LegendItem => ({
    text,
    value: null,
    color,
    sample: { kind: "line", width, dash },
  });
  return [
    line("captured", captured),
    line("simulated", simulated),
    line("captured less simulated", left),
    // As pale as a curve's own area.
    {
      text: "the same, lowest to highest of many samples",
      value: null,
      color: left.color,
      sample: { kind: "area", fill: `${left.color}1f` },
    },
    { text: "noise and steps", value: null, color: colors.bandEdge, sample: { kind: "area", fill: colors.band } },
  ];
}

interface Frames {
  readonly main: Frame;
  readonly left: Frame;
}

function layOut(
  page: Page,
  channels: readonly FitFigureChannel[],
  top: number,
): { kept: readonly number[]; frames: readonly Frames[]; height: number } {
  const room = page.height - outer - AXIS - top;
  // The answer is about those of which more is left than noise.
  const ranks = channels.map(({ isBeyondNoise }) => (isBeyondNoise ? 0 : 1));
  const kept = panelsWithin(page, ranks, room, HEADING + CLOSE + 2 * GAP);
  const count = kept.length;
  const each = Math.max(page.fixed ? 0 : HEADING + LEAST + GAP + LEFT_LEAST + GAP, room / count);
  const plots = each - HEADING - 2 * GAP;
  const sides = { left: page.left + NUMBERS, right: page.right - 8 };
  const frames = kept.map((_, k) => {
    const start = top + k * each + HEADING;
    const middle = start + 0.64 * plots;
    return {
      main: { ...sides, top: start, bottom: middle },
      left: { ...sides, top: middle + GAP, bottom: start + plots + GAP },
    };
  });
  return { kept, frames, height: Math.ceil(Math.max(page.height, frames[count - 1].left.bottom + AXIS + outer / 2)) };
}

function drawChannel(canvas: Canvas, channel: FitFigureChannel, { main, left }: Frames, styles: Styles): void {
  const { colors, axis, root } = canvas;
  const { label, unit, time, captured, simulated, band, isBeyondNoise } = channel;
  const group = add(root, "g", { class: "panel" });
  const heading = `${label}, ${unit}${isBeyondNoise ? ": more is left than noise" : ""}`;
  write(
    canvas,
    group,
    main.left - NUMBERS,
    main.top - HEADING / 2,
    shorten(heading, 12, main.right - main.left + NUMBERS, true),
    {
      bold: true,
      color: isBeyondNoise ? colors.exceedanceInk : colors.ink,
    },
  );
  const low = Math.min(least(captured), least(simulated));
  const high = -Math.min(least(captured.map((v) => -v)), least(simulated.map((v) => -v)));
  const scale = linearScale([low, high], main);
  drawGrid(canvas, group, main, scale);
  drawCurve(group, stretches(axis, time, captured), scale, styles.captured, `${label}, captured`);
  drawCurve(group, stretches(axis, time, simulated), scale, styles.simulated, `${label}, simulated`);
  const rest = captured.map((value, k) => value - simulated[k]);
  // Where nothing at all is left any scale shows that.
  const most = Math.max(2 * band, outer95(rest) * 1.3) || 1;
  const below = linearScale([-most, most], left);
  drawBand(group, left, below, band, colors);
  const kept = add(group, "g", { class: "left-over" });
  drawGrid(canvas, kept, left, { ...below, ticks: ticksOf(below, unit) });
  const clipped = rest.map((value) => Math.max(-most, Math.min(most, value)));
  drawCurve(group, stretches(axis, time, clipped), below, styles.left, `${label}, captured less simulated`);
}

/** Close enough to each other that the largest within a scale stands well apart from its middle. */
const ROUND = [1, 1.5, 2, 3, 4, 5, 6, 8];

/** The largest round value both ways and the middle: a low panel has room for no more, and one number tells no scale. */
function ticksOf({ domain, position }: ValueScale, unit: "V" | "A"): ValueScale["ticks"] {
  const most = 0.92 * domain[1];
  const power = 10 ** Math.floor(Math.log10(most));
  const value = power * Math.max(...ROUND.filter((each) => each * power <= most));
  const words = formatQuantity(value, unit === "V" ? "voltage" : "current").replace(" ", "\u00a0");
  return [
    { y: position(value), label: words },
    { y: position(0), label: "0" },
    { y: position(-value), label: `−${words}` },
  ];
}

/** All but the largest: one sample beside an edge would press the rest flat. */
function outer95(values: Float64Array): number {
  const sizes = values.map(Math.abs).sort();
  return sizes[Math.floor(0.995 * (sizes.length - 1))];
}

function drawBand(parent: Element, frame: Frame, scale: ValueScale, band: number, colors: Palette): void {
  const top = scale.position(band);
  add(parent, "rect", {
    x: rounded(frame.left),
    y: rounded(top),
    width: rounded(frame.right - frame.left),
    height: rounded(scale.position(-band) - top),
    fill: colors.band,
  });
}
