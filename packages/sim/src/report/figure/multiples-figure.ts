import { write } from "./canvas.ts";
import { openPage, outer, type Page, planPage } from "./chart.ts";
import type { ChartOptions } from "./chart-types.ts";
import { factsTold } from "./describe.ts";
import { add } from "./draw.ts";
import { faultFigure } from "./fault-figure.ts";
import { legendFigure } from "./legend-figure.ts";
import type { MultiplesData, MultiplesPanel } from "./multiples-types.ts";
import type { Palette } from "./palette.ts";
import { sharedAxes } from "./shared-axes.ts";
import { shorten, textWidth } from "./text.ts";
import type { SharedAxes } from "./types.ts";

/** Smaller than this a bare figure cannot be read. */
const least = { width: 290, height: 150 } as const;
const gap = 14;
const tall = 190;

/**
 * The load voltages of several runs as small figures with the same axes: the same fault, side by side.
 *
 * @param data at least one run; all on the same fault
 * @param options the document to draw in, size in CSS pixels, colours. On a slide only as many are drawn as can be read from the back of a
 *   room, those with a claim first; the others are named
 * @returns an element that is not yet part of the document; its `<title>` and `<desc>` tell what it shows
 * @throws RangeError when there are no data, or as `faultFigure` does
 * @example
 * const shown = multiplesData(comparison);
 * if (shown !== null) container.append(multiplesFigure(shown, { document }));
 */
export function multiplesFigure(data: MultiplesData, options: ChartOptions): SVGSVGElement {
  if (data.panels.length === 0) throw new RangeError("there are no runs to be drawn side by side");
  const page = planPage(data, options, "multiples-figure");
  const axes = sharedAxes(data.panels.map((panel) => ({ ...panel.data, states: [] })));
  const common = { document: options.document, scheme: options.scheme ?? "light", axes } as const;
  const legend = legendFigure(data.panels[0].data, {
    ...common,
    width: page.right - page.left,
    panels: ["voltage"],
    id: `${page.id}-legend`,
  });
  const legendHeight = Number(legend.getAttribute("height"));
  const layout = layOut(page, data.panels, page.top + legendHeight + 4);
  const svg = openPage(page, layout.height, description(data, layout.left));
  place(svg, legend, page.left, page.top - 4);
  for (const [k, spot] of layout.spots.entries()) drawPanel(page, svg, layout.drawn[k], common, spot, k);
  if (layout.left.length > 0) {
    const text = `Not drawn for want of room: ${layout.left.map(({ name }) => name).join(", ")}`;
    const room = page.right - page.left;
    write(page, svg, page.left, layout.height - outer, shorten(text, 12, room), { color: page.colors.muted });
  }
  return svg;
}

interface Spot {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

interface Layout {
  readonly spots: readonly Spot[];
  /** As many, in the order of reading. */
  readonly drawn: readonly MultiplesPanel[];
  /** Those that find no room. */
  readonly left: readonly MultiplesPanel[];
  readonly height: number;
}

function layOut(page: Page, panels: readonly MultiplesPanel[], top: number): Layout {
  const room = page.right - page.left;
  const columns = Math.max(1, Math.min(panels.length, Math.floor((room + gap) / (least.width + gap))));
  const width = (room - gap * (columns - 1)) / columns;
  const wanted = Math.ceil(panels.length / columns);
  const free = page.height - top - outer;
  const most = page.fixed ? Math.max(1, Math.floor((free - 16 + gap) / (least.height + head + gap))) : wanted;
  const rows = Math.min(wanted, most);
  const spare = wanted > rows ? 18 : 0;
  const filling = (free - spare - gap * (rows - 1)) / rows - head;
  const height = page.fixed ? filling : Math.max(tall, filling);
  const spots = panels.slice(0, rows * columns).map(
    (_, k): Spot => ({
      x: page.left + (k % columns) * (width + gap),
      y: top + Math.floor(k / columns) * (head + height + gap),
      width,
      height,
    }),
  );
  const bottom = top + rows * (head + height) + gap * (rows - 1) + spare + outer;
  const chosen = new Set(byClaim(panels).slice(0, spots.length));
  const drawn = panels.filter((panel) => chosen.has(panel));
  const left = panels.filter((panel) => !chosen.has(panel));
  return { spots, drawn, left, height: Math.max(page.height, Math.ceil(bottom)) };
}

const byClaim = (panels: readonly MultiplesPanel[]): readonly MultiplesPanel[] =>
  panels.toSorted((a, b) => (a.claim ?? panels.length) - (b.claim ?? panels.length));

interface Look {
  readonly axes: SharedAxes;
  readonly scheme: "light" | "dark";
}

/** Line with the name above each figure. How it ended stands below it, in the room beside the figure's own heading: long names need all of theirs. */
const head = 22;

function drawPanel(page: Page, parent: Element, panel: MultiplesPanel, look: Look, spot: Spot, k: number): void {
  const { axes, scheme } = look;
  const { colors } = page;
  const group = add(parent, "g", { class: "panel" });
  const name = shorten(panel.name, 13, spot.width - 8, true);
  write(page, group, spot.x, spot.y + head / 2, name, { size: 13, bold: true });
  const figure = faultFigure(
    { ...panel.data, title: "", states: [] },
    {
      document: page.document,
      scheme,
      width: spot.width,
      height: spot.height,
      frame: "bare",
      panels: ["voltage"],
      axes,
      id: `${page.id}-${k + 1}`,
    },
  );
  place(group, figure, spot.x, spot.y + head);
  // On top of the figure, whose ground would cover it.
  const tag = textWidth(panel.outcome, 12) + 12;
  const { fill, edge } = outcomeColors(colors, panel.tone);
  add(group, "rect", {
    x: spot.x,
    y: spot.y + head,
    width: tag,
    height: head - 4,
    rx: 3,
    fill,
    stroke: edge,
  });
  write(page, group, spot.x + tag / 2, spot.y + head + (head - 4) / 2, panel.outcome, { anchor: "middle" });
}

/** The same as the page's own tables: one meaning, one colour. */
function outcomeColors({ band, bandEdge, warm, tones }: Palette, tone: MultiplesPanel["tone"]) {
  const paints = { safe: { fill: band, edge: bandEdge }, withstood: warm, endangered: tones.alarm };
  return paints[tone];
}

/** A figure inside another: the outer one tells what it shows. */
function place(parent: Element, figure: SVGSVGElement, x: number, y: number): void {
  for (const name of ["role", "aria-labelledby"]) figure.removeAttribute(name);
  figure.querySelector("title")?.remove();
  figure.querySelector("desc")?.remove();
  figure.setAttribute("x", String(Math.round(x * 100) / 100));
  figure.setAttribute("y", String(Math.round(y * 100) / 100));
  parent.appendChild(figure);
}

function description(data: MultiplesData, left: readonly MultiplesPanel[]): string {
  const told = data.panels.map(({ name, outcome }) => `${name}: ${outcome}.`);
  const missing = left.length === 0 ? [] : [`Not drawn: ${left.map(({ name }) => name).join(", ")}.`];
  return [data.subtitle, ...factsTold(data), "Voltages on the same axes.", ...told, ...missing].join(" ");
}
