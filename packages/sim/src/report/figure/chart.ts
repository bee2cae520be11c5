import { type PlotOptions, plot } from "@observablehq/plot";
import { type Pen, write } from "./canvas.ts";
import type { ChartOptions, Headed } from "./chart-types.ts";
import { add, createSvg, type Frame } from "./draw.ts";
import { type Palette, palette } from "./palette.ts";
import { extentOf } from "./size.ts";
import { factsSize, fitSubtitle, fitTitle, fontFamily, shorten, wrap } from "./text.ts";

interface Line {
  readonly text: string;
  readonly y: number;
}

/** A chart before its height is known: what stands above its body, and the body's width. */
export interface Page extends Pen {
  readonly document: Document;
  readonly id: string;
  readonly colors: Palette;
  readonly narrow: boolean;
  readonly width: number;
  /** Height asked for; in the narrow form 0 where none was. */
  readonly height: number;
  /** Pixels of the picture per CSS pixel of the layout. */
  readonly scale: number;
  /** How much thicker lines are drawn. */
  readonly weight: number;
  /** Whether the height is kept whatever the content. */
  readonly fixed: boolean;
  readonly left: number;
  readonly right: number;
  /** Where the body may begin. */
  readonly top: number;
  readonly heading: Headed;
  readonly titleSize: number;
  readonly titleLines: readonly Line[];
  readonly subtitleSize: number;
  readonly subtitleLines: readonly Line[];
  readonly factsLines: readonly Line[];
}

/** Free space above the title and below the body. */
export const outer = 14;

export function planPage(heading: Headed, options: ChartOptions, id: string): Page {
  const { width, height, narrow, scale, weight, fixed } = extentOf(options);
  const left = narrow ? 14 : 20;
  const room = width - 2 * left;
  const title = fitTitle(heading.title, narrow, room);
  const subtitle = fitSubtitle(heading.subtitle, narrow, room, narrow ? 8 : 4);
  let y = outer;
  const stack = (lines: readonly string[], height: number): Line[] =>
    lines.map((text) => {
      y += height;
      return { text, y: y - height / 2 };
    });
  const titleLines = stack(title.lines, title.size * 1.3);
  const subtitleLines = stack(subtitle.lines, subtitle.size * 1.4);
  const factsLines = stack(wrap(heading.facts ?? "", factsSize, room, narrow ? 4 : 2), factsSize * 1.4);
  return {
    document: options.document,
    id: options.id ?? id,
    colors: palette(options.scheme ?? "light"),
    narrow,
    width,
    height: height ?? 0,
    scale,
    weight,
    fixed,
    left,
    right: width - left,
    top: y + 12,
    heading,
    titleSize: title.size,
    titleLines,
    subtitleSize: subtitle.size,
    subtitleLines,
    factsLines,
  };
}

/** Which panels find room, each at least so high: all where the page may grow, else those of the lowest ranks that fit into `room`, one at least, in the order they have. */
export function panelsWithin(page: Page, ranks: readonly number[], room: number, least: number): readonly number[] {
  const count = page.fixed ? Math.max(1, Math.floor(room / least)) : ranks.length;
  const kept = [...ranks.keys()].toSorted((a, b) => ranks[a] - ranks[b]).slice(0, count);
  return kept.toSorted((a, b) => a - b);
}

/** Names those that found none, in the left part of the line at `y`. */
export function tellLeftOut(page: Page, svg: Element, y: number, labels: readonly string[]): void {
  if (labels.length === 0) return;
  const room = (page.right - page.left) * 0.6;
  const text = shorten(`No room here for: ${labels.join(", ")}`, 12, room, false);
  write(page, svg, page.left, y, text, { color: page.colors.muted });
}

/** The figure with its ground, header and alternative text. */
export function openPage(page: Page, height: number, description: string): SVGSVGElement {
  const { id, width, colors, scale } = page;
  const svg = createSvg(page.document, {
    width: width * scale,
    height: height * scale,
    viewBox: `0 0 ${width} ${height}`,
    role: "img",
    "aria-labelledby": `${id}-title ${id}-desc`,
    "font-family": fontFamily,
    color: colors.ink,
  });
  add(svg, "title", { id: `${id}-title` }, page.heading.title);
  add(svg, "desc", { id: `${id}-desc` }, description);
  add(svg, "rect", { class: "ground", width, height, fill: colors.ground });
  const header = add(svg, "g", { class: "header" });
  for (const { text, y } of page.titleLines) {
    write(page, header, page.left, y, text, { size: page.titleSize, bold: true });
  }
  for (const { text, y } of page.subtitleLines) write(page, header, page.left, y, text, { size: page.subtitleSize });
  for (const { text, y } of page.factsLines) write(page, header, page.left, y, text, { color: colors.muted });
  return svg;
}

/** Attributes whose numbers are rounded; the others hold none that vary. */
const numeric = ["x", "y", "x1", "x2", "y1", "y2", "width", "height", "d", "transform"];

/**
 * Draws marks into a frame. Only the marks are taken over: type, axes and legends are the house's own, and a style sheet
 * of its own would break a page's policy.
 */
export function drawMarks(page: Page, parent: Element, frame: Frame, options: PlotOptions): void {
  const height = Math.ceil(frame.bottom) + 1;
  const drawn = plot({
    ...options,
    axis: null,
    document: page.document,
    width: page.width,
    height,
    marginLeft: frame.left,
    marginRight: page.width - frame.right,
    marginTop: frame.top,
    marginBottom: height - frame.bottom,
  });
  drawn.querySelector("style")?.remove();
  // Appending takes a child away from the drawing, so that the next one becomes the first.
  for (let child = drawn.firstElementChild; child !== null; child = drawn.firstElementChild) {
    for (const element of [child, ...child.querySelectorAll("*")]) tidy(element);
    parent.appendChild(child);
  }
}

function tidy(element: Element): void {
  for (const name of numeric) {
    const value = element.getAttribute(name);
    if (value === null) continue;
    element.setAttribute(name, value.replace(/-?\d[\d.]*(?:e-?\d+)?/g, hundredths));
  }
}

function hundredths(number: string): string {
  return /\.\d{3}/.test(number) ? String(Math.round(Number(number) * 100) / 100 || 0) : number;
}
