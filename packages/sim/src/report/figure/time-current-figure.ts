import { dot, line, link, type Markish, ruleX, ruleY } from "@observablehq/plot";
import { drawLegend, write } from "./canvas.ts";
import { drawMarks, openPage, type Page, planPage } from "./chart.ts";
import { checkTimeCurrent } from "./chart-check.ts";
import { frameChart } from "./chart-frame.ts";
import type { ChartOptions, TimeCurrentCurve, TimeCurrentData } from "./chart-types.ts";
import { factsTold } from "./describe.ts";
import { add, type Frame } from "./draw.ts";
import { lineHeight } from "./legend.ts";
import { type LogScale, logScale } from "./log-scale.ts";
import { heavier, type LineStyle, type Palette } from "./palette.ts";
import { wrap } from "./text.ts";
import { writeTimeAxes } from "./time-axes.ts";
import { gateMarks, legendOf, pointText, spreadLabels, within } from "./time-current-parts.ts";
import { formatNumber, formatTime } from "./time-format.ts";

/** What is not shown: nobody waits longer, and no fuse here is quicker. */
const shortest = 5e-4;
const longest = 2e3;

/**
 * What goes first, fuse, SCR or wire: time over current, both logarithmic, with published gates, the currents of the line and
 * what flowed in the run. Of two curves the lower one at a current gives way first.
 *
 * @param data currents in A, times in s
 * @param options the document to draw in, size in CSS pixels, colours
 * @returns an element that is not yet part of the document; its `<title>` and `<desc>` tell what it shows
 * @throws RangeError when there is no curve or a value is not above 0; all problems at once
 * @example
 * const shown = timeCurrentData(run, verdict, parsed.fits);
 * if (shown !== null) container.append(timeCurrentFigure(shown, { document }));
 */
export function timeCurrentFigure(data: TimeCurrentData, options: ChartOptions): SVGSVGElement {
  checkTimeCurrent(data);
  const page = planPage(data, options, "time-current-figure");
  const styles = stylesOf(page.colors, data.curves).map((style) => heavier(style, page.weight));
  const legend = legendOf(page.colors, data, styles, page.narrow);
  const { frame, height, legend: placed } = frameChart(page, legend, { left: [62, 48], above: [38, 46] });
  const svg = openPage(page, height, description(data));
  const x = logScale(currentsShown(data), frame.left, frame.right);
  const y = logScale(timesShown(data), frame.bottom, frame.top);
  const body = add(svg, "g", { class: "panel time-current" });
  drawMarks(page, body, frame, {
    x: { type: "log", domain: [...x.domain] },
    y: { type: "log", domain: [...y.domain] },
    marks: marksOf(page, data, styles, x, y),
  });
  drawAxes(page, body, frame, x, y);
  drawTexts(page, body, data, frame, x, y);
  drawLegend(page, add(svg, "g", { class: "legend" }), placed);
  return svg;
}

function description(data: TimeCurrentData): string {
  const { point } = data;
  return [
    data.subtitle,
    ...factsTold(data),
    "Time over current, both on logarithmic scales.",
    ...data.curves.map(({ label, points }) => {
      const [first, last] = [points[0], points[points.length - 1]];
      return `${label}: from ${formatTime(first.time)} at ${formatNumber(first.current)} A to ${formatTime(last.time)} at ${formatNumber(last.current)} A.`;
    }),
    ...data.currents.map(({ label, value }) => `${label}: ${formatNumber(value)} A.`),
    ...(point === null ? [] : [`${point.label}: ${formatNumber(point.current)} A for ${formatTime(point.time)}.`]),
  ].join(" ");
}

function stylesOf(colors: Palette, curves: readonly TimeCurrentCurve[]): LineStyle[] {
  const seen = { fuse: 0, scr: 0, wire: 0 };
  return curves.map(({ role }) => {
    const order = seen[role]++;
    if (role === "fuse") return { color: colors.currents[1], width: 2.4, dash: order === 0 ? "" : "12 3" };
    if (role === "scr") return { color: colors.currents[0], width: 2, dash: order === 0 ? "8 3" : "8 3 2 3" };
    return { color: colors.currents[2], width: 2, dash: order === 0 ? "2.5 2.5" : "2.5 2.5 6 2.5" };
  });
}

/** From below what flows in peace to above what can flow at all. */
function currentsShown({ curves, currents, point }: TimeCurrentData): readonly [number, number] {
  const gates = curves.flatMap((curve) => curve.gates.map(({ current }) => current));
  const marked = [...currents.map(({ value }) => value), ...(point === null ? [] : [point.current])];
  const surges = curves
    .filter(({ role }) => role === "scr")
    .flatMap(({ points }) => points.map(({ current }) => current));
  const all = [...gates, ...marked, ...surges];
  const shown = all.length > 0 ? all : curves.flatMap(({ points }) => points.map(({ current }) => current));
  const [low, high] = [Math.min(...shown), Math.max(...shown)];
  return [Math.max(low / 1.6, high / 1e4), high * 1.6];
}

function timesShown({ point }: TimeCurrentData): readonly [number, number] {
  if (point === null) return [shortest, longest];
  return [Math.min(shortest, point.time / 2), Math.max(longest, point.time * 2)];
}

function marksOf(
  { colors }: Page,
  data: TimeCurrentData,
  styles: readonly LineStyle[],
  x: LogScale,
  y: LogScale,
): Markish[] {
  const faint = { stroke: colors.grid, strokeOpacity: 0.45 };
  const { point } = data;
  return [
    ruleX([...x.minorTicks], faint),
    ruleY([...y.minorTicks], faint),
    ruleX([...x.ticks], { stroke: colors.grid }),
    ruleY([...y.ticks], { stroke: colors.grid }),
    ...data.currents.map(({ role, value }) =>
      ruleX([value], {
        stroke: role === "fault" ? colors.exceedanceInk : colors.loads[0],
        strokeWidth: 1.4,
        strokeDasharray: role === "fault" ? "10 4" : "2 3",
      }),
    ),
    ...(point === null
      ? []
      : [
          link([point], {
            x1: x.domain[0],
            x2: "current",
            y1: "time",
            y2: "time",
            stroke: colors.ink,
            strokeOpacity: 0.55,
            strokeDasharray: "1 3",
          }),
        ]),
    ...data.curves.flatMap((curve, i) => {
      const { color, width, dash } = styles[i];
      const points = within(curve.points, x.domain, y.domain);
      return [
        line(points, {
          x: "current",
          y: "time",
          stroke: color,
          strokeWidth: width,
          ...(dash === "" ? {} : { strokeDasharray: dash }),
        }),
        ...(curve.role === "scr"
          ? [dot(points, { x: "current", y: "time", symbol: "triangle", r: 4, fill: color })]
          : []),
        ...gateMarks(curve.gates, color, y),
      ];
    }),
    ...(point === null
      ? []
      : [
          dot([point], {
            x: "current",
            y: "time",
            symbol: "diamond",
            r: 7,
            fill: colors.ink,
            stroke: colors.ground,
            strokeWidth: 1.5,
          }),
        ]),
  ];
}

function drawAxes(page: Page, parent: Element, frame: Frame, x: LogScale, y: LogScale): void {
  writeTimeAxes(page, parent, {
    frame,
    x: { ...x, title: page.narrow ? "Current, A" : "Current, A (logarithmic scale)" },
    y: { ...y, title: "Time", format: (tick) => (tick < 1 ? formatTime(tick) : `${formatNumber(tick, 6)} s`) },
  });
}

/** The currents above the frame, the run's own point beside its mark. */
function drawTexts(page: Page, parent: Element, data: TimeCurrentData, frame: Frame, x: LogScale, y: LogScale): void {
  const { colors } = page;
  const labels = data.currents.map(({ role, value }) => ({
    text: `${formatNumber(value)} A`,
    x: x.position(value),
    color: role === "fault" ? colors.exceedanceInk : colors.loads[0],
  }));
  for (const label of spreadLabels(labels, frame.left, page.right)) {
    write(page, parent, label.x, frame.top - 11, label.text, { anchor: "middle", color: label.color, bold: true });
  }
  const { point } = data;
  // On a phone the names of curves tell it: around the mark there is no free ground.
  if (point === null || page.narrow) return;
  const text = pointText(point);
  const at = x.position(point.current);
  // Along the dotted line to the axis lies less current than any curve begins with: the only free ground.
  const peaceful = data.currents.filter(({ role }) => role === "operating").map(({ value }) => x.position(value) + 8);
  const after = Math.max(frame.left + 8, ...peaceful);
  const from = at - after > 150 ? after : frame.left + 8;
  const lines = wrap(text, 12, Math.max(130, Math.min(210, at - from - 12)), 5, true);
  const row = y.position(point.time);
  const below = row + 12 + (lines.length - 1) * lineHeight < frame.bottom - 8;
  const first = below ? row + 12 : row - 12 - (lines.length - 1) * lineHeight;
  for (const [i, each] of lines.entries()) {
    write(page, parent, from, first + i * lineHeight, each, { bold: true, halo: true });
  }
}
