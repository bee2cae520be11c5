import { scaleLinear } from "d3";
import { drawLegend, verticalLine, write } from "./canvas.ts";
import { openPage, type Page, planPage } from "./chart.ts";
import { checkWithstand } from "./chart-check.ts";
import { frameChart } from "./chart-frame.ts";
import type { ChartOptions } from "./chart-types.ts";
import { factsTold } from "./describe.ts";
import { add, type Frame } from "./draw.ts";
import { lineHeight } from "./legend.ts";
import { logScale } from "./log-scale.ts";
import { unbroken, wrap } from "./text.ts";
import { writeTimeAxes } from "./time-axes.ts";
import { spreadLabels } from "./time-current-parts.ts";
import { formatNumber, formatTime } from "./time-format.ts";
import {
  drawAllowed,
  drawFound,
  drawGrid,
  drawNearest,
  hatchOf,
  legendOf,
  type Plot,
  type Styled,
  stylesOf,
} from "./withstand-parts.ts";
import type { LoadWithstand, WithstandData } from "./withstand-types.ts";

/**
 * How long each load stood above which voltage against how long it stands that: longest unbroken time, logarithmic, over voltage.
 * A found curve below its limit everywhere was withstood; where it came nearest is marked.
 *
 * @param data voltages in V, times in s
 * @param options the document to draw in, size in CSS pixels, colours
 * @returns an element that is not yet part of the document; its `<title>` and `<desc>` tell what it shows
 * @throws RangeError when there is no load or a value is not finite; all problems at once
 * @example
 * const shown = withstandData(run, verdict);
 * if (shown !== null) container.append(withstandFigure(shown, { document }));
 */
export function withstandFigure(data: WithstandData, options: ChartOptions): SVGSVGElement {
  checkWithstand(data);
  const page = planPage(data, options, "withstand-figure");
  const styles = stylesOf(page, data.loads);
  const { frame, height, legend } = frameChart(page, legendOf(page, data.loads, styles), {
    left: [62, 54],
    above: [38, 40],
  });
  const svg = openPage(page, height, description(data));
  const plot = plotOf(data.loads, frame);
  const body = add(svg, "g", { class: "panel withstand" });
  const hatch = hatchOf(page, body);
  const worst = worstOf(data.loads);
  drawGrid(page, body, plot);
  for (const [i, styled] of styles.entries()) drawAllowed(page, body, plot, styled, hatch, i);
  for (const styled of [...styles].reverse()) drawFound(body, plot, styled);
  if (worst !== null) drawNearest(page, body, plot, worst);
  drawAxes(page, body, plot);
  drawPeaks(page, body, plot, styles);
  if (worst !== null) writeNearest(page, body, plot, worst);
  drawLegend(page, add(svg, "g", { class: "legend" }), legend);
  return svg;
}

function description(data: WithstandData): string {
  const { subtitle, loads } = data;
  return [
    subtitle,
    ...factsTold(data),
    "Longest unbroken time above each voltage, on a logarithmic scale of time.",
    ...loads.flatMap(({ label, maximum, peak, allowed, assumed, nearest }) => [
      `${label}: at most ${formatNumber(peak, 4)} V; its window ends at ${formatNumber(maximum, 4)} V.`,
      allowed.length === 0
        ? `${label} stands no time above that.`
        : `It stands${assumed ? " (assumed)" : ""}: ${allowed.map(({ voltage, time }) => `${formatTime(time)} above ${formatNumber(voltage)} V`).join(", ")}.`,
      ...(nearest === null
        ? []
        : [
            `Nearest: ${formatTime(nearest.found)} of ${formatTime(nearest.allowed)} allowed above ${formatNumber(nearest.voltage)} V.`,
          ]),
    ]),
  ].join(" ");
}

type Marked = NonNullable<LoadWithstand["nearest"]>;

function worstOf(loads: readonly LoadWithstand[]): Marked | null {
  const marked = loads.flatMap(({ nearest }) => (nearest === null ? [] : [nearest]));
  return marked.sort((a, b) => a.allowed / a.found - b.allowed / b.found)[0] ?? null;
}

/** Times from a decade below what matters to above everything; voltages from below peace to above what is allowed or was seen. */
function plotOf(loads: readonly LoadWithstand[], frame: Frame): Plot {
  const found = loads.flatMap((load) => load.found);
  const allowed = loads.flatMap((load) => load.allowed);
  const voltages = [
    ...[...found, ...allowed].map(({ voltage }) => voltage),
    ...loads.flatMap(({ peak, maximum }) => [peak, maximum]),
  ];
  const [low, high] = [Math.min(...voltages), Math.max(...voltages)];
  const matters = [...allowed.map(({ time }) => time), ...loads.flatMap(({ nearest }) => nearest?.found ?? [])];
  const longest = Math.max(1, ...[...found, ...allowed].map(({ time }) => time));
  const shortest = Math.max(1e-9, Math.min(...(matters.length > 0 ? matters : [longest / 1e6])));
  const span = Math.max(high - low, 1);
  const x = scaleLinear([low, high + 0.05 * span], [frame.left, frame.right]);
  const decade = (value: number, step: number) => 10 ** Math.floor(Math.log10(value) + step);
  return {
    frame,
    x: { domain: [low, high + 0.05 * span], position: (value) => x(value), ticks: x.ticks(8) },
    y: logScale([decade(shortest, -0.7), longest * 3], frame.bottom, frame.top),
  };
}

function drawAxes(page: Page, parent: Element, { frame, x, y }: Plot): void {
  const title = page.narrow ? "Longest time above" : "Longest unbroken time above the voltage (logarithmic scale)";
  writeTimeAxes(page, parent, {
    frame,
    x: { ...x, title: "Voltage at the load, V" },
    y: { ...y, title, format: formatTime },
  });
}

/** Above the frame stands how high each load went, on a thin line down to where its found curve ends. */
function drawPeaks(page: Page, parent: Element, { frame, x }: Plot, styles: readonly Styled[]): void {
  const labels = styles.map(({ load, style }) => ({
    text: `peak ${formatNumber(load.peak, 4)} V`,
    x: x.position(load.peak),
    color: style.color,
  }));
  for (const { x: at, color } of labels) {
    verticalLine(parent, at, frame.top - 3, frame.bottom, { stroke: color, "stroke-dasharray": "1 3" });
  }
  for (const label of spreadLabels(labels, frame.left, page.right)) {
    write(page, parent, label.x, frame.top - 11, label.text, { anchor: "middle", bold: true, color: label.color });
  }
}

/** Beside the arrow from found to allowed, on the side with more room. */
function writeNearest(page: Page, parent: Element, { frame, x, y }: Plot, mark: Marked): void {
  const ratio = mark.allowed / mark.found;
  const told = ratio >= 1 ? `${short(ratio)} × inside` : `${short(1 / ratio)} × the allowed`;
  const values = [`${formatNumber(mark.voltage)} V:`, formatTime(mark.found), formatTime(mark.allowed)].map(unbroken);
  const text = `above ${values[0]} ${values[1]} of ${values[2]}, ${unbroken(told)}`;
  const at = x.position(mark.voltage);
  const right = frame.right - at > at - frame.left;
  const room = Math.max(110, Math.min(page.narrow ? 130 : 190, (right ? frame.right - at : at - frame.left) - 24));
  const lines = wrap(text, 12, room, 4, true);
  const color = ratio >= 1 ? page.colors.bandEdge : page.colors.exceedanceInk;
  const half = ((lines.length - 1) * lineHeight) / 2;
  const wanted = (y.position(mark.found) + y.position(mark.allowed)) / 2;
  const middle = Math.min(Math.max(wanted, frame.top + half + 12), frame.bottom - half - 12);
  for (const [i, line] of lines.entries()) {
    const style = { bold: true, halo: true, color, anchor: right ? "start" : "end" } as const;
    write(page, parent, at + (right ? 14 : -14), middle - half + i * lineHeight, line, style);
  }
}

const short = (ratio: number): string => formatNumber(Number(ratio.toPrecision(ratio < 10 ? 3 : 2)), 6);
