import { percentTexts } from "../percents.ts";
import { write } from "./canvas.ts";
import { openPage, outer, type Page, planPage } from "./chart.ts";
import type { ChartOptions } from "./chart-types.ts";
import { factsTold } from "./describe.ts";
import { add, type Frame, rounded } from "./draw.ts";
import { type AxisScale, drawBelow, drawKinds, KIND_HEIGHT, letterOf, paintOf, scaleOf } from "./plane-paint.ts";
import type { PlaneData } from "./plane-types.ts";
import { shorten } from "./text.ts";
import { formatNumber } from "./time-format.ts";

/**
 * What if two values were others: a plane painted by how the fault ends, with the scenario itself as a cross.
 *
 * @param data squares, kinds of outcome and axes
 * @param options the document to draw in, size in CSS pixels, colours
 * @returns an element that is not yet part of the document; its `<title>` and `<desc>` tell what it shows
 * @throws RangeError when a square has no kind or an axis no length; all problems at once
 * @example container.append(planeFigure(planeData(study), { document }));
 */
export function planeFigure(data: PlaneData, options: ChartOptions): SVGSVGElement {
  check(data);
  const page = planPage(data, options, "plane-figure");
  const { frame, kinds, height } = layOut(page, data);
  const svg = openPage(page, height, description(data));
  const x = scaleOf(data.x, [frame.left, frame.right]);
  const y = scaleOf(data.y, [frame.bottom, frame.top]);
  drawSquares(page, svg, data, frame);
  drawLetters(page, svg, data, frame);
  const axes = add(svg, "g", { class: "axes" });
  add(axes, "rect", {
    x: frame.left,
    y: frame.top,
    width: frame.right - frame.left,
    height: frame.bottom - frame.top,
    fill: "none",
    stroke: page.colors.axis,
  });
  drawBelow(page, axes, data.x, frame, x);
  for (const tick of y.ticks(6)) {
    add(axes, "path", { d: `M${rounded(frame.left)},${rounded(y(tick))}h-4`, stroke: page.colors.axis });
    write(page, axes, frame.left - 8, y(tick), formatNumber(tick, 6), { anchor: "end", color: page.colors.muted });
  }
  const room = frame.right - page.left;
  write(page, axes, page.left, frame.top - 14, shorten(data.y.title, 12, room, true), { bold: true });
  drawNominal(page, svg, data, x, y);
  drawKinds(page, svg, data.kinds, kinds);
  return svg;
}

function check({ x, y, kinds, squares }: PlaneData): void {
  const problems = [
    ...[x, y]
      .filter(({ from, to, byDecades }) => !(to > from) || (byDecades && from <= 0))
      .map(({ title }) => `the axis "${title}" has no length`),
    ...(squares.every(({ kind }) => kinds[kind] !== undefined) ? [] : ["a square is of no kind"]),
  ];
  if (problems.length > 0) throw new RangeError(`these data cannot be drawn: ${problems.join("; ")}`);
}

function description(data: PlaneData): string {
  const ends = [data.x, data.y].map(
    ({ title, from, to, nominal }) =>
      `${title}: ${formatNumber(from, 4)} to ${formatNumber(to, 4)}${nominal === null ? "" : `, the scenario at ${formatNumber(nominal, 4)}`}.`,
  );
  const parts = percentTexts(data.kinds.map(({ share }) => share));
  const kinds = data.kinds.map(({ label }, k) => `${letterOf(k)}: ${label}, ${parts[k]}.`);
  return [data.subtitle, ...factsTold(data), ...ends, ...kinds].join(" ");
}

function layOut(page: Page, { kinds }: PlaneData): { frame: Frame; kinds: Frame; height: number } {
  const { narrow, left, right, top } = page;
  const legend = kinds.length * KIND_HEIGHT;
  const start = top + 26;
  if (narrow) {
    const frame = { left: left + 42, right, top: start, bottom: start + (right - left - 42) };
    const below = frame.bottom + 54;
    return { frame, kinds: { left, right, top: below, bottom: below + legend }, height: below + legend + outer };
  }
  const bottom = Math.max(page.height - outer - 40, start + 280);
  const frame = { left: left + 50, right: left + Math.round((right - left) * 0.55), top: start, bottom };
  const beside = { left: frame.right + 28, right, top: start, bottom: start + legend };
  return { frame, kinds: beside, height: Math.ceil(Math.max(bottom + 40, beside.bottom) + outer) };
}

/** Squares of one kind are one path, a hair larger than they are: no seams. */
function drawSquares(page: Page, svg: Element, { squares, kinds }: PlaneData, frame: Frame): void {
  const group = add(svg, "g", { class: "plane", "shape-rendering": "crispEdges" });
  const [width, height] = [frame.right - frame.left, frame.bottom - frame.top];
  for (const [k, { label, tone }] of kinds.entries()) {
    const d = squares
      .filter(({ kind }) => kind === k)
      .map(({ x, y, size }) => {
        const [left, low] = [frame.left + x * width, frame.bottom - y * height];
        return `M${rounded(left)},${rounded(low)}h${rounded(size * width)}v${rounded(-size * height)}h${rounded(-size * width)}z`;
      })
      .join("");
    if (d === "") continue;
    const { fill } = paintOf(page.colors, tone);
    const path = add(group, "path", { d, fill, stroke: fill, "stroke-width": 0.5 });
    add(path, "title", {}, label);
  }
}

/** A letter where its kind has the largest square around it. */
function drawLetters(page: Page, svg: Element, { squares, kinds }: PlaneData, frame: Frame): void {
  const group = add(svg, "g", { class: "letters" });
  const [width, height] = [frame.right - frame.left, frame.bottom - frame.top];
  for (const [k, { tone }] of kinds.entries()) {
    const own = squares.filter(({ kind }) => kind === k);
    const place = innermost(own);
    if (place === null) continue;
    const [x, y] = [frame.left + place.x * width, frame.bottom - place.y * height];
    write(page, group, x, y, letterOf(k), { anchor: "middle", bold: true, color: paintOf(page.colors, tone).ink });
  }
}

/** The middle of the square that lies nearest to the middle of all, among the largest ones. */
function innermost(squares: PlaneData["squares"]): { x: number; y: number } | null {
  const largest = Math.max(0, ...squares.map(({ size }) => size));
  if (largest < 1 / 40) return null;
  const area = squares.reduce((sum, { size }) => sum + size * size, 0);
  const mean = (pick: (square: PlaneData["squares"][number]) => number): number =>
    squares.reduce((sum, square) => sum + pick(square) * square.size * square.size, 0) / area;
  const [x, y] = [mean((square) => square.x + square.size / 2), mean((square) => square.y + square.size / 2)];
  const middles = squares
    .filter(({ size }) => size === largest)
    .map((square) => ({ x: square.x + square.size / 2, y: square.y + square.size / 2 }));
  return middles.toSorted((a, b) => Math.hypot(a.x - x, a.y - y) - Math.hypot(b.x - x, b.y - y))[0] ?? null;
}

function drawNominal(page: Page, svg: Element, data: PlaneData, x: AxisScale, y: AxisScale): void {
  if (data.x.nominal === null || data.y.nominal === null) return;
  const [cx, cy] = [rounded(x(data.x.nominal)), rounded(y(data.y.nominal))];
  const group = add(svg, "g", { class: "nominal" });
  const d = `M${cx - 7},${cy}h14M${cx},${cy - 7}v14`;
  add(group, "path", { d, stroke: page.colors.ground, "stroke-width": 5 * page.weight });
  const cross = add(group, "path", { d, stroke: page.colors.ink, "stroke-width": 2 * page.weight });
  add(cross, "title", {}, "the scenario as it stands");
}
