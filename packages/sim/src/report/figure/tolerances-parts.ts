import { scaleLinear } from "d3";
import { verticalLine, write } from "./canvas.ts";
import type { Page } from "./chart.ts";
import { add, type Frame, rounded } from "./draw.ts";
import type { Hatch } from "./hatch.ts";
import { shorten, textWidth, wrap } from "./text.ts";
import { formatNumber } from "./time-format.ts";
import type { HistogramData, TolerancesData } from "./tolerances-types.ts";

/** Bars over an axis of the figure, the endangered ones on top, with named places above them. */
export function drawHistogram(
  page: Page,
  svg: Element,
  { title, bins, lines, note }: HistogramData,
  frame: Frame,
  hatches: readonly Hatch[],
): void {
  const { colors, weight } = page;
  const group = add(svg, "g", { class: "panel histogram" });
  const ends = [bins[0].from, bins[bins.length - 1].to, ...lines.map(({ value }) => value)];
  const [least, most] = [Math.min(...ends), Math.max(...ends)];
  const pad = 0.02 * (most - least || 1);
  const x = scaleLinear([least - pad, most + pad], [frame.left, frame.right]);
  const tallest = Math.max(1, ...bins.map(({ safe, endangered }) => safe + endangered));
  const y = scaleLinear([0, tallest], [frame.bottom, frame.top]);
  const room = page.narrow ? page.right - page.left : frame.right - page.left;
  write(page, group, page.left, frame.top - 38, shorten(title, 12, room, true), { bold: true });
  for (const tick of y.ticks(4).filter(Number.isInteger)) {
    add(group, "path", {
      d: `M${rounded(frame.left)},${rounded(y(tick))}H${rounded(frame.right)}`,
      stroke: colors.grid,
    });
    write(page, group, frame.left - 6, y(tick), formatNumber(tick, 6), { anchor: "end", color: colors.muted });
  }
  for (const { from, to, safe, endangered } of bins) {
    const width = Math.max(1, x(to) - x(from) - (x(to) - x(from) > 4 ? 1 : 0));
    const bar = (bottom: number, height: number, fill: string): void => {
      if (height > 0) add(group, "rect", { x: x(from), y: y(bottom + height), width, height: y(0) - y(height), fill });
    };
    bar(0, safe, hatches[0].fill);
    bar(safe, endangered, hatches[1].fill);
  }
  const baseline = `M${rounded(frame.left)},${rounded(frame.bottom)}H${rounded(frame.right)}`;
  add(group, "path", { d: baseline, stroke: colors.axis });
  drawPlaces(page, group, lines, frame, x, weight);
  let end = -Infinity;
  for (const tick of x.ticks(page.narrow ? 4 : 6)) {
    const text = formatNumber(tick, 7);
    const half = textWidth(text, 12) / 2;
    if (x(tick) - half < end + 8 || x(tick) + half > page.right) continue;
    write(page, group, x(tick), frame.bottom + 12, text, { anchor: "middle", color: colors.muted });
    end = x(tick) + half;
  }
  if (note !== "") {
    const text = shorten(note, 12, frame.right - frame.left);
    write(page, group, frame.right, frame.bottom + 26, text, { anchor: "end", color: colors.muted });
  }
}

/** Names stand above their lines, each on the side where there is room, the second a row lower. */
function drawPlaces(
  page: Page,
  parent: Element,
  lines: HistogramData["lines"],
  frame: Frame,
  x: (value: number) => number,
  weight: number,
): void {
  const { colors } = page;
  for (const [k, { label, value, role }] of lines.entries()) {
    const color = role === "limit" ? colors.exceedanceInk : colors.ink;
    const row = frame.top - 21 + 14 * (k % 2);
    verticalLine(parent, x(value), row + 6, frame.bottom, {
      stroke: color,
      "stroke-width": 1.6 * weight,
      ...(role === "nominal" ? { "stroke-dasharray": "5 3" } : {}),
    });
    const half = textWidth(label, 12) / 2;
    const at = Math.max(frame.left + half - 30, Math.min(x(value), frame.right - half));
    write(page, parent, at, row, label, { anchor: "middle", color, halo: true });
  }
}

/** A bar for each value from 0 towards −1 or 1; the ground says how far chance alone reaches. */
export function drawInfluences(page: Page, svg: Element, { influences, noise }: TolerancesData, frame: Frame): void {
  const { colors, narrow } = page;
  const group = add(svg, "g", { class: "panel influences" });
  const room = frame.right - frame.left;
  const headings = ["Which values matter: rank correlation with the peak", "Rank correlation with the peak"];
  const heading = headings.find((each) => textWidth(each, 12, true) <= room) ?? shorten(headings[1], 12, room, true);
  write(page, group, frame.left, frame.top - 34, heading, { bold: true });
  if (influences.length === 0) {
    write(page, group, frame.left, frame.top, "The peak does not vary.", { color: colors.muted });
    return;
  }
  const labels = narrow ? 0 : 0.48 * (frame.right - frame.left);
  const values = 48;
  const x = scaleLinear([-1, 1], [frame.left + labels + 4, frame.right - values]);
  const pitch = (frame.bottom - frame.top) / influences.length;
  const shift = narrow ? 9 : 0;
  const [low, high] = [x(-Math.min(1, noise)), x(Math.min(1, noise))];
  add(group, "rect", {
    class: "chance",
    x: low,
    y: frame.top,
    width: high - low,
    height: frame.bottom - frame.top,
    fill: colors.tones.idle.fill,
  });
  for (const tick of x(1) - x(-1) < 220 ? [-1, 0, 1] : [-1, -0.5, 0, 0.5, 1]) {
    const stroke = tick === 0 ? colors.axis : colors.grid;
    verticalLine(group, x(tick), frame.top, frame.bottom, { stroke });
    write(page, group, x(tick), frame.bottom + 12, formatNumber(tick, 2), { anchor: "middle", color: colors.muted });
  }
  write(page, group, frame.left, frame.top - 16, "grey: may be chance; + rises with it, − falls", {
    color: colors.muted,
  });
  for (const [k, { label, value }] of influences.entries()) {
    const middle = frame.top + (k + 0.5) * pitch;
    const isChance = Math.abs(value) < noise;
    const [from, to] = [Math.min(x(0), x(value)), Math.max(x(0), x(value))];
    add(group, "rect", {
      x: from,
      y: middle - 6 + shift,
      width: Math.max(1, to - from),
      height: 12,
      fill: isChance ? colors.axis : value > 0 ? colors.loads[0] : colors.loads[2],
    });
    const color = isChance ? colors.muted : colors.ink;
    const room = narrow ? frame.right - frame.left : labels - 6;
    const lines = wrap(label, 12, room, narrow || pitch < 28 ? 1 : 2);
    const first = (narrow ? middle - 11 : middle) - 7 * (lines.length - 1);
    for (const [row, line] of lines.entries()) write(page, group, frame.left, first + 14 * row, line, { color });
    const text = `${value > 0 ? "+" : ""}${formatNumber(value, 2)}`;
    write(page, group, frame.right, middle + shift, text, { anchor: "end", color, bold: !isChance });
  }
}
