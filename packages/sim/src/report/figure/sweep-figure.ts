import { line, scaleLinear } from "d3";
import { verticalLine, write } from "./canvas.ts";
import { openPage, outer, type Page, planPage } from "./chart.ts";
import type { ChartOptions } from "./chart-types.ts";
import { factsTold } from "./describe.ts";
import { add, type Frame, rounded } from "./draw.ts";
import { drawBelow, drawKinds, KIND_HEIGHT, letterOf, paintOf, scaleOf } from "./plane-paint.ts";
import type { SweepData } from "./plane-types.ts";
import { shorten } from "./text.ts";
import { formatNumber } from "./time-format.ts";

/**
 * What if one value were another: a strip painted by how the fault ends, and figures of the runs over it.
 *
 * @param data points, kinds of outcome and curves
 * @param options the document to draw in, size in CSS pixels, colours
 * @returns an element that is not yet part of the document; its `<title>` and `<desc>` tell what it shows
 * @throws RangeError where there are fewer than two points or a curve has another number of values
 * @example container.append(sweepFigure(sweepData(study), { document }));
 */
export function sweepFigure(data: SweepData, options: ChartOptions): SVGSVGElement {
  if (data.points.length < 2 || data.curves.some(({ values }) => values.length !== data.points.length))
    throw new RangeError(
      "these data cannot be drawn: a sweep has at least two points, and every curve a value for each",
    );
  const page = planPage(data, options, "sweep-figure");
  const { panels, kinds, strip, height } = layOut(page, data);
  const svg = openPage(page, height, description(data));
  drawStrip(page, svg, data, strip);
  drawKinds(page, svg, data.kinds, kinds);
  for (const [k, curve] of data.curves.entries()) drawCurve(page, svg, data, curve, panels[k]);
  return svg;
}

function description(data: SweepData): string {
  const { title, from, to } = data.x;
  const kinds = data.kinds.map(({ label, share }, k) => `${letterOf(k)}: ${label}, ${formatNumber(100 * share, 2)} %.`);
  const curves = data.curves.map((curve) => {
    const known = curve.values.filter((value) => value !== null);
    return `${curve.title}: ${formatNumber(Math.min(...known), 4)} to ${formatNumber(Math.max(...known), 4)}.`;
  });
  const span = `${title}: ${formatNumber(from, 4)} to ${formatNumber(to, 4)}.`;
  return [data.subtitle, ...factsTold(data), span, ...kinds, ...curves].join(" ");
}

interface Layout {
  readonly strip: Frame;
  readonly kinds: Frame;
  readonly panels: readonly Frame[];
  readonly height: number;
}

function layOut(page: Page, { kinds, curves }: SweepData): Layout {
  const { narrow, left, right, top } = page;
  const strip = { left: left + 50, right, top: top + 6, bottom: top + 26 };
  const legend = { left, right, top: strip.bottom + 46, bottom: strip.bottom + 46 + kinds.length * KIND_HEIGHT };
  const columns = narrow ? 1 : 2;
  const rows = Math.ceil(curves.length / columns);
  const start = legend.bottom + 30;
  const free = page.height - outer - start;
  const pitch = narrow ? 150 : Math.max(118, free / Math.max(1, rows));
  const width = (right - left - (columns - 1) * 28) / columns;
  const panels = curves.map((_, k) => {
    const from = left + (k % columns) * (width + 28);
    const y = start + Math.floor(k / columns) * pitch;
    return { left: from + 50, right: from + width, top: y + 14, bottom: y + pitch - 40 };
  });
  return { strip, kinds: legend, panels, height: Math.ceil(Math.max(page.height, start + rows * pitch + outer)) };
}

/** Each point stands for the half way to its neighbours. */
function drawStrip(page: Page, svg: Element, { points, kinds, x: axis }: SweepData, frame: Frame): void {
  const group = add(svg, "g", { class: "strip", "shape-rendering": "crispEdges" });
  const x = scaleOf(axis, [frame.left, frame.right]);
  for (const [k, point] of points.entries()) {
    const [before, after] = [points[k - 1], points[k + 1]];
    const from = before === undefined ? frame.left : (x(before.x) + x(point.x)) / 2;
    const to = after === undefined ? frame.right : (x(point.x) + x(after.x)) / 2;
    const { fill } = paintOf(page.colors, kinds[point.kind].tone);
    add(group, "rect", { x: from, y: frame.top, width: to - from, height: frame.bottom - frame.top, fill });
  }
  // Letters stand on whole stretches, so after all of them.
  for (let from = 0; from < points.length; ) {
    const { kind } = points[from];
    const next = points.findIndex((point, k) => k > from && point.kind !== kind);
    const to = next < 0 ? points.length : next;
    const [left, right] = [x(points[from].x), x(points[to - 1].x)];
    if (right - left > 14) {
      const color = paintOf(page.colors, kinds[kind].tone).ink;
      const middle = (frame.top + frame.bottom) / 2;
      write(page, group, (left + right) / 2, middle, letterOf(kind), { anchor: "middle", bold: true, color });
    }
    from = to;
  }
  drawBelow(page, group, axis, frame, x);
}

function drawCurve(
  page: Page,
  svg: Element,
  { points, x: axis }: SweepData,
  { title, values }: SweepData["curves"][number],
  frame: Frame,
): void {
  const { colors, weight } = page;
  const group = add(svg, "g", { class: "panel curve" });
  const x = scaleOf(axis, [frame.left, frame.right]);
  const known = values.filter((value) => value !== null);
  const [least, most] = [Math.min(...known), Math.max(...known)];
  const pad = (most - least || Math.abs(most) || 1) * 0.08;
  const y = scaleLinear([least - pad, most + pad], [frame.bottom, frame.top]);
  write(page, group, frame.left - 50, frame.top - 14, shorten(title, 12, frame.right - frame.left + 50, true), {
    bold: true,
  });
  for (const tick of y.ticks(3)) {
    add(group, "path", {
      d: `M${rounded(frame.left)},${rounded(y(tick))}H${rounded(frame.right)}`,
      stroke: colors.grid,
    });
    write(page, group, frame.left - 6, y(tick), formatNumber(tick, 4), { anchor: "end", color: colors.muted });
  }
  if (axis.nominal !== null)
    verticalLine(group, x(axis.nominal), frame.top, frame.bottom, { stroke: colors.ink, "stroke-dasharray": "5 3" });
  const path = line<number | null>()
    .defined((value) => value !== null)
    .x((_, k) => x(points[k].x))
    .y((value) => y(value ?? 0))
    .digits(2);
  const d = path([...values]) ?? "";
  add(group, "path", { d, fill: "none", stroke: colors.loads[0], "stroke-width": 2 * weight });
  for (const [k, value] of values.entries())
    if (value !== null) add(group, "circle", { cx: x(points[k].x), cy: y(value), r: 1.8, fill: colors.loads[0] });
  const baseline = `M${rounded(frame.left)},${rounded(frame.bottom)}H${rounded(frame.right)}`;
  add(group, "path", { d: baseline, stroke: colors.axis });
  for (const tick of x.ticks(4))
    write(page, group, x(tick), frame.bottom + 12, formatNumber(tick, 5), { anchor: "middle", color: colors.muted });
}
