import { type Markish, rect, ruleX } from "@observablehq/plot";
import { scaleLinear } from "d3";
import { write } from "./canvas.ts";
import { drawMarks, openPage, outer, type Page, planPage } from "./chart.ts";
import { checkSurge } from "./chart-check.ts";
import type { ChartOptions, SurgeData } from "./chart-types.ts";
import { factsTold } from "./describe.ts";
import { add, type Frame } from "./draw.ts";
import { drawHatches, type Hatch } from "./hatch.ts";
import { shorten, textWidth } from "./text.ts";
import { formatNumber, formatTime } from "./time-format.ts";

type Scale = (value: number) => number;

/**
 * I²t of one conduction of an SCR, stacked by where it came from, against its rating; below it the worst I²t over each window
 * as a share of what the surge rating allows there: how much of the SCR's surge was used up?
 *
 * @param data I²t in A²s, durations in s
 * @param options the document to draw in, size in CSS pixels, colours
 * @returns an element that is not yet part of the document; its `<title>` and `<desc>` tell what it shows
 * @throws RangeError when a value is negative or not finite; all problems at once
 * @example
 * const shown = surgeData(run, verdict);
 * if (shown !== null) container.append(surgeBarsFigure(shown, { document }));
 */
export function surgeBarsFigure(data: SurgeData, options: ChartOptions): SVGSVGElement {
  checkSurge(data);
  const page = planPage(data, options, "surge-figure");
  const layout = layOut(page, data);
  const svg = openPage(page, layout.height, description(data));
  const { colors } = page;
  const fills = [colors.currents[0], colors.currents[1], colors.currents[2], colors.currents[3]];
  const hatches = drawHatches(svg, page.id, colors, fills);
  drawStack(page, svg, data, layout, hatches);
  if (data.windows.length > 0) drawWindows(page, svg, data, layout);
  return svg;
}

const amount = (i2t: number): string => `${formatNumber(Number(i2t.toPrecision(3)))} A²s`;
const totalOf = ({ parts }: SurgeData): number => parts.reduce((sum, { i2t }) => sum + i2t, 0);

function description(data: SurgeData): string {
  return [
    data.subtitle,
    ...factsTold(data),
    ...data.parts.map(({ label, i2t }) => `${label}: ${amount(i2t)}.`),
    `Together ${amount(totalOf(data))}; rating ${amount(data.rating.i2t)} for ${data.rating.label}.`,
    ...data.windows.map(
      ({ duration, i2t, allowed }) => `Worst ${formatTime(duration)}: ${amount(i2t)} of ${amount(allowed)} allowed.`,
    ),
  ].join(" ");
}

interface Layout {
  readonly height: number;
  readonly stack: Frame;
  readonly windows: Frame;
  readonly legend: readonly { readonly x: number; readonly y: number }[];
  readonly pitch: number;
  readonly bar: number;
}

const sample = 18;
const legendText = (label: string, i2t: number): string => `${label} ${amount(i2t)}`;

function layOut(page: Page, data: SurgeData): Layout {
  const { narrow } = page;
  const left = narrow ? page.left : page.left + 128;
  const right = narrow ? page.right : page.right - 20;
  const legend: { x: number; y: number }[] = [];
  let x = page.left;
  let y = page.top + 34;
  for (const { label, i2t } of data.parts) {
    const width = sample + 6 + textWidth(legendText(label, i2t), 12);
    if (x > page.left && x + width > page.right) {
      x = page.left;
      y += 19;
    }
    legend.push({ x, y });
    x += width + 20;
  }
  // Below the legend stands the name of the rating's line.
  const top = y + (narrow ? 58 : 40);
  const count = data.windows.length;
  const below = count > 0 ? 114 : 40;
  const free = Math.max(page.height - outer - below - top, 0);
  const pitch = narrow ? 44 : Math.min(52, Math.max(26, (free * 0.62) / Math.max(1, count)));
  const stackHeight = narrow ? 44 : Math.min(110, Math.max(44, free - pitch * count));
  const stack = { left, right, top, bottom: top + stackHeight };
  const windowsTop = stack.bottom + 40 + 48;
  const windows = { left, right, top: windowsTop, bottom: windowsTop + pitch * count };
  const bottom = count > 0 ? windows.bottom + 26 : stack.bottom + 40;
  return {
    height: Math.max(page.height, Math.ceil(bottom + outer)),
    stack,
    windows,
    legend,
    pitch,
    bar: narrow ? 18 : Math.min(26, pitch - 8),
  };
}

function drawStack(page: Page, svg: Element, data: SurgeData, layout: Layout, hatches: readonly Hatch[]): void {
  const { colors } = page;
  const { stack } = layout;
  const total = totalOf(data);
  const domain: [number, number] = [0, 1.1 * Math.max(total, data.rating.i2t)];
  const scale = scaleLinear(domain, [stack.left, stack.right]);
  const group = add(svg, "g", { class: "panel stack" });
  const heading = page.narrow
    ? "I²t, A²s: where it came from"
    : `I²t through the ${data.subject}, A²s: where it came from`;
  write(page, group, page.left, page.top + 8, shorten(heading, 12, page.right - page.left, true), { bold: true });
  for (const [i, { label, i2t }] of data.parts.entries()) {
    const { x, y } = layout.legend[i];
    add(group, "rect", { x, y: y - 6, width: sample, height: 12, fill: hatches[i % hatches.length].fill });
    write(page, group, x + sample + 6, y, legendText(label, i2t));
  }
  let from = 0;
  const pieces = data.parts.map(({ i2t }, i) => {
    const piece = { x1: from, x2: from + i2t, fill: hatches[i % hatches.length].fill };
    from += i2t;
    return piece;
  });
  const middle = (stack.top + stack.bottom) / 2;
  const half = Math.min(22, (stack.bottom - stack.top) / 2 - 6);
  const ticks = scale.ticks(page.narrow ? 4 : 8);
  const over = total > data.rating.i2t;
  drawMarks(page, group, stack, {
    x: { domain },
    y: { type: "identity" },
    marks: [
      ruleX(ticks, { y1: stack.top, y2: stack.bottom, stroke: colors.grid }),
      ...pieces
        .filter(({ x1, x2 }) => x2 > x1)
        .map((piece) =>
          rect([piece], {
            x1: "x1",
            x2: "x2",
            y1: middle - half,
            y2: middle + half,
            fill: piece.fill,
            insetRight: scale(piece.x2) - scale(piece.x1) > 4 ? 1 : 0,
          }),
        ),
      ruleX([data.rating.i2t], { y1: stack.top - 8, y2: stack.bottom, stroke: colors.ink, strokeWidth: 2 }),
    ],
  });
  writeTicks(page, group, ticks, scale, stack.bottom + 13, (value) => formatNumber(value, 6));
  if (!page.narrow) {
    write(page, group, page.left, middle - 8, "together");
    write(page, group, page.left, middle + 9, amount(total), { bold: true });
  }
  const rating = `rating ${amount(data.rating.i2t)}, ${data.rating.label}`;
  const line = scale(data.rating.i2t);
  const width = textWidth(rating, 12, true);
  const x = Math.max(page.left, Math.min(line - width / 2, page.right - width));
  write(page, group, x, stack.top - 17, rating, { bold: true });
  if (page.narrow) write(page, group, page.left, stack.top - 35, `together ${amount(total)}`, { bold: true });
  if (over) return;
  const end = scale(total) + 8;
  const free = `the rating is ${formatNumber(data.rating.i2t / Math.max(total, 1e-12))} times this`;
  if (total > 0 && end + textWidth(free, 12) < line - 6)
    write(page, group, end, middle, free, { color: colors.muted, halo: true });
}

/** Share of what is allowed; beyond this the bar is cut and says so. */
const most = 2.5;

function drawWindows(page: Page, svg: Element, data: SurgeData, layout: Layout): void {
  const { colors, narrow } = page;
  const { windows: frame, pitch, bar } = layout;
  const group = add(svg, "g", { class: "panel windows" });
  const shares = data.windows.map(({ i2t, allowed }) => i2t / allowed);
  const upper = Math.min(most, Math.max(1.1, 1.12 * Math.max(...shares)));
  const domain: [number, number] = [0, upper];
  const scale = scaleLinear(domain, [frame.left, frame.right]);
  const heading = narrow
    ? "Worst I²t over each window, % of the allowed"
    : "Worst I²t over each window after a firing, % of what the surge rating allows in it";
  write(page, group, page.left, frame.top - 29, heading, { bold: true });
  const rows = data.windows.map((window, i) => {
    const share = Math.min(window.i2t / window.allowed, upper);
    const middle = frame.top + (i + 0.5) * pitch + (narrow ? 11 : 0);
    return { ...window, share, real: window.i2t / window.allowed, middle, over: window.i2t > window.allowed };
  });
  const ticks = scale.ticks(narrow ? 5 : 10);
  const strips = narrow
    ? rows.map(({ middle }) => ({ y1: middle - bar / 2 - 2, y2: middle + bar / 2 + 2 }))
    : [{ y1: frame.top, y2: frame.bottom }];
  const marks: Markish[] = [
    ...strips.flatMap(({ y1, y2 }) => [
      rect([0], { x1: 1, x2: upper, y1, y2, fill: colors.tones.alarm.fill, fillOpacity: 0.4 }),
      ruleX(ticks, { y1, y2, stroke: colors.grid }),
    ]),
    ...rows.map((row) =>
      rect([row], {
        x1: 0,
        x2: "share",
        y1: row.middle - bar / 2,
        y2: row.middle + bar / 2,
        fill: row.over ? colors.tones.alarm.edge : colors.bandEdge,
      }),
    ),
    ...strips.map(({ y1, y2 }) => ruleX([1], { y1, y2, stroke: colors.ink, strokeWidth: 2 })),
  ];
  drawMarks(page, group, frame, { x: { domain }, y: { type: "identity" }, marks });
  write(page, group, scale(1), frame.top - 10, narrow ? "100 %" : "allowed", { anchor: "middle", bold: true });
  for (const { duration, i2t, allowed, real, share, middle, over } of rows) {
    const color = over ? colors.exceedanceInk : colors.bandEdge;
    const percent = `${formatNumber(100 * real, real < 0.1 ? 2 : 3)} %${real > upper ? " ▸" : ""}`;
    const text = narrow
      ? percent
      : `${percent} (${amount(i2t)} of ${amount(allowed)})${over ? ", beyond its rating" : ""}`;
    const outside = scale(share) + 8;
    const fits = outside + textWidth(text, 12) < page.right;
    if (narrow) {
      const values = `${amount(i2t)} of ${amount(allowed)}${over ? ", beyond" : ""}`;
      write(page, group, page.left, middle - 21, formatTime(duration), { bold: true });
      write(page, group, page.right, middle - 21, values, { anchor: "end", color: over ? color : colors.muted });
    } else write(page, group, page.left, middle, shorten(`over ${formatTime(duration)}`, 12, 120));
    write(page, group, fits ? outside : scale(share) - 8, middle, text, {
      anchor: fits ? "start" : "end",
      color: fits ? color : colors.ground,
      bold: over,
      halo: fits,
    });
  }
  writeTicks(page, group, ticks, scale, frame.bottom + 13, (value) => `${formatNumber(100 * value, 6)} %`);
}

function writeTicks(
  page: Page,
  parent: Element,
  ticks: readonly number[],
  scale: Scale,
  y: number,
  text: (value: number) => string,
): void {
  let end = -Infinity;
  for (const tick of ticks) {
    const label = text(tick);
    const half = textWidth(label, 12) / 2;
    const x = Math.max(scale(tick), page.left + half);
    if (x - half < end + 8 || x + half > page.right) continue;
    write(page, parent, x, y, label, { anchor: "middle", color: page.colors.muted });
    end = x + half;
  }
}
