import { dot, link, type Markish, rect, ruleX, type SymbolType } from "@observablehq/plot";
import { nearness } from "../../verdict/finding.ts";
import type { Severity } from "../../verdict/types.ts";
import { write } from "./canvas.ts";
import { drawMarks, openPage, type Page, planPage } from "./chart.ts";
import { checkHeadroom } from "./chart-check.ts";
import type { ChartOptions, HeadroomData } from "./chart-types.ts";
import { factsTold } from "./describe.ts";
import { add } from "./draw.ts";
import { type HeadroomLayout, type HeadroomRow, layOutHeadroom, tagOf, valuesOf } from "./headroom-rows.ts";
import { type LogScale, logScale } from "./log-scale.ts";
import type { Palette } from "./palette.ts";
import { shorten, textWidth } from "./text.ts";
import { formatNumber } from "./time-format.ts";
import type { Tone } from "./types.ts";

/** Beyond this nobody cares how much more there is: the dot stands at the edge and its number tells. */
const plenty = 100;
const hopeless = 0.01;

/**
 * Every watched limit as a dot on one logarithmic scale of headroom (rating over found): what came nearest its limit?
 *
 * @param data limits with their headroom as a plain ratio
 * @param options the document to draw in, size in CSS pixels, colours
 * @returns an element that is not yet part of the document; its `<title>` and `<desc>` tell what it shows
 * @throws RangeError when there are no limits or a headroom is not above 0; all problems at once
 * @example container.append(headroomFigure(headroomData(verdict, run), { document }));
 */
export function headroomFigure(data: HeadroomData, options: ChartOptions): SVGSVGElement {
  checkHeadroom(data);
  const page = planPage(data, options, "headroom-figure");
  const layout = layOutHeadroom(page, data);
  const svg = openPage(page, layout.height, description(data, layout));
  const scale = scaleOf(data, layout);
  const body = add(svg, "g", { class: "panel headroom" });
  drawMarks(page, body, layout.frame, {
    x: { type: "log", domain: [...scale.domain], clamp: true },
    y: { type: "identity" },
    marks: marksOf(page, layout, scale),
  });
  drawAxis(page, body, layout, scale);
  for (const heading of layout.headings) {
    write(
      page,
      body,
      page.left,
      heading.y,
      shorten(heading.text, 12, layout.frame.left - page.left + (page.narrow ? 300 : -8), true),
      { bold: true },
    );
  }
  for (const row of layout.rows) drawRow(page, body, layout, scale, row);
  return svg;
}

function description(data: HeadroomData, { rows }: HeadroomLayout): string {
  const told = rows.map(({ limit }) => {
    const ratio = limit.headroom === null ? "no headroom to tell" : `headroom ${formatNumber(limit.headroom)} times`;
    return `${limit.subject}, ${limit.quantity}: ${valuesOf(limit)}, ${ratio}, ${tagOf(limit)}.`;
  });
  return [
    data.subtitle,
    ...factsTold(data),
    "Rating over what was found, on a logarithmic scale; below 1 the limit was passed.",
    ...told,
  ].join(" ");
}

/** Widens the domain so that beside the outermost dots there is room for their numbers. */
function scaleOf(data: HeadroomData, { frame }: HeadroomLayout): LogScale {
  const shown = data.limits.map(nearness).filter(Number.isFinite).map(place);
  const lowest = Math.min(0.5, ...shown);
  const [before, after] = [shown.some((value) => value < 1) ? 72 : 20, 92];
  const perPixel = Math.log10(plenty / lowest) / (frame.right - frame.left - before - after);
  const domain = [lowest / 10 ** (before * perPixel), plenty * 10 ** (after * perPixel)] as const;
  const scale = logScale(domain, frame.left, frame.right);
  // Beyond the outermost dots there is no scale any more.
  const shownTick = (tick: number): boolean => tick <= plenty && tick >= hopeless;
  return { ...scale, ticks: scale.ticks.filter(shownTick), minorTicks: scale.minorTicks.filter(shownTick) };
}

interface Look {
  readonly symbol: SymbolType;
  readonly color: string;
  readonly tone: Tone;
}

function lookOf(colors: Palette, severity: Severity): Look {
  switch (severity) {
    case "ok":
      return { symbol: "circle", color: colors.bandEdge, tone: "idle" };
    case "withstood":
      return { symbol: "diamond", color: colors.loads[0], tone: "active" };
    case "used up":
      return { symbol: "triangle", color: colors.protector, tone: "active" };
    case "beyond":
      return { symbol: "square", color: colors.exceedanceInk, tone: "alarm" };
    case "unknown":
      return { symbol: "star", color: colors.currents[0], tone: "alarm" };
    case "not rated":
      return { symbol: "circle", color: colors.muted, tone: "off" };
  }
}

function marksOf(page: Page, layout: HeadroomLayout, scale: LogScale): Markish[] {
  const { colors } = page;
  const [low, high] = scale.domain;
  const dotted = layout.rows.flatMap(({ limit, y }) =>
    Number.isFinite(nearness(limit)) ? [{ severity: limit.severity, x: place(nearness(limit)), y }] : [],
  );
  const severities = [...new Set(dotted.map(({ severity }) => severity))];
  return [
    ...layout.strips.flatMap(({ top: y1, bottom: y2 }) => [
      rect([0], { x1: low, x2: 1, y1, y2, fill: colors.tones.alarm.fill, fillOpacity: 0.4 }),
      ruleX([...scale.minorTicks], { y1, y2, stroke: colors.grid, strokeOpacity: 0.5 }),
      ruleX([...scale.ticks], { y1, y2, stroke: colors.grid }),
      ruleX([1], { y1, y2, stroke: colors.ink, strokeWidth: 1.6 }),
    ]),
    ...layout.headings
      .slice(1)
      .map(({ top }) => link([0], { x1: low, x2: high, y1: top, y2: top, stroke: colors.axis, strokeWidth: 0.6 })),
    ...severities.flatMap((severity) => {
      const mine = dotted.filter((row) => row.severity === severity);
      const { color, symbol } = lookOf(colors, severity);
      return [
        link(mine, {
          x1: 1,
          x2: "x",
          y1: "y",
          y2: "y",
          stroke: color,
          strokeWidth: 1.5 * page.weight,
          strokeOpacity: 0.6,
        }),
        dot(mine, { x: "x", y: "y", symbol, r: 5, fill: color, stroke: colors.ground, strokeWidth: 1 }),
      ];
    }),
  ];
}

const place = (headroom: number): number => Math.min(plenty, Math.max(hopeless, headroom));

/** Numbers above ten thousand say nothing but "plenty". */
function ratioText(headroom: number): string {
  if (headroom === 0) return "◂ none";
  if (headroom > 9999) return "> 9999 × ▸";
  // Just below and just above 1 must not both read 1.
  const digits = Math.abs(headroom - 1) < 0.005 ? 5 : headroom < 0.1 ? 2 : 3;
  const text = `${formatNumber(headroom, digits)} ×`;
  return headroom > plenty ? `${text} ▸` : headroom < hopeless ? `◂ ${text}` : text;
}

function drawRow(page: Page, parent: Element, layout: HeadroomLayout, scale: LogScale, row: HeadroomRow): void {
  const { limit, y, textY } = row;
  const { colors, narrow } = page;
  const { frame } = layout;
  const look = lookOf(colors, limit.severity);
  const group = add(parent, "g", { class: `limit ${limit.severity.replace(" ", "-")}` });
  const values = valuesOf(limit);
  const valueRight = narrow ? page.right : layout.valueRight;
  const nameLeft = page.left + 14;
  const nameRoom = (narrow ? valueRight - textWidth(values, 12) - 10 : frame.left - 8) - nameLeft;
  write(page, group, nameLeft, textY, shorten(limit.quantity, 12, nameRoom));
  write(page, group, valueRight, textY, values, { anchor: "end", color: colors.muted });
  drawTag(page, group, page.right - layout.tagWidth, y, layout.tagWidth, tagOf(limit), look.tone);
  const headroom = nearness(limit);
  if (!Number.isFinite(headroom)) {
    const why = limit.rating === null ? "no rating known" : "nothing found";
    write(page, group, scale.position(1) + 12, y, why, { color: colors.muted, halo: true });
    return;
  }
  const x = scale.position(place(headroom));
  const below = headroom < 1;
  const text = ratioText(headroom);
  // The number stands where the stem is not, unless the frame ends there.
  const fits = below ? x - 9 - textWidth(text, 12) > frame.left : x + 9 + textWidth(text, 12) < frame.right;
  const outward = fits ? (below ? -1 : 1) : below ? 1 : -1;
  write(page, group, x + 9 * outward, y, text, {
    anchor: outward < 0 ? "end" : "start",
    color: look.color,
    halo: true,
    bold: limit.severity !== "ok",
  });
}

function drawTag(page: Page, parent: Element, x: number, y: number, width: number, text: string, tone: Tone): void {
  const { fill, edge } = page.colors.tones[tone];
  add(parent, "rect", { x, y: y - 8, width, height: 16, rx: 8, fill, stroke: edge, "stroke-width": 0.8 });
  write(page, parent, x + width / 2, y, text, { anchor: "middle" });
}

function drawAxis(page: Page, parent: Element, { frame, leftOut }: HeadroomLayout, scale: LogScale): void {
  const { colors, narrow } = page;
  const y = frame.bottom + 13;
  let end = -Infinity;
  for (const tick of scale.ticks) {
    const text = tick === plenty ? `${plenty} +` : formatNumber(tick, 6);
    const x = scale.position(tick);
    const half = textWidth(text, 12, tick === 1) / 2;
    if (x - half < end + 8 || x - half < frame.left || x + half > frame.right) continue;
    write(page, parent, x, y, text, {
      anchor: "middle",
      color: tick === 1 ? colors.ink : colors.muted,
      bold: tick === 1,
    });
    end = x + half;
  }
  const title = narrow
    ? "Headroom: rating over found (°C: rises)"
    : "Headroom × (rating over found; rises for °C), log scale";
  write(page, parent, frame.left, y + 19, title, { bold: true });
  if (leftOut > 0) {
    const style = { anchor: "end", color: colors.muted } as const;
    write(page, parent, page.right, y + 19, `${leftOut} more with more headroom, not shown`, style);
  }
  const one = scale.position(1);
  const top = frame.top - 11;
  const left = "◂ past the limit";
  const fitting = textWidth(left, 12) < one - 8 - page.left ? left : "◂ past";
  write(page, parent, one - 8, top, fitting, { anchor: "end", color: colors.exceedanceInk });
  write(page, parent, one + 8, top, "room left ▸", { color: colors.bandEdge });
}
