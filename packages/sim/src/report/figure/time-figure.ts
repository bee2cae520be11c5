import { type Canvas, drawLegend, verticalLine, write } from "./canvas.ts";
import { type Composition, ruledFrames } from "./composition.ts";
import { add, createSvg, type Frame } from "./draw.ts";
import { drawEventList, drawEventMarks, drawEventRules } from "./event-list.ts";
import { drawStateBars, drawStateTags } from "./state-panel.ts";
import { placeLastingTags, placeTags } from "./state-tags.ts";
import { factsSize, fontFamily } from "./text.ts";

/** The alternative text of a figure: what a reader who cannot see it should know. */
export interface Description {
  readonly title: string;
  readonly description: string;
}

/** Draws a figure over time: from back to front tones, bands and grids, event rules, curves with their names, written tags. */
export function drawTimed(document: Document, id: string, composition: Composition, told: Description): SVGSVGElement {
  const { plan, look, layout, panels, rows, list, listLayout } = composition;
  const { colors } = look;
  const svg = createSvg(document, {
    width: plan.width * plan.scale,
    height: layout.height * plan.scale,
    viewBox: `0 0 ${plan.width} ${layout.height}`,
    role: "img",
    "aria-labelledby": `${id}-title ${id}-desc`,
    "font-family": fontFamily,
    color: colors.ink,
  });
  add(svg, "title", { id: `${id}-title` }, told.title);
  add(svg, "desc", { id: `${id}-desc` }, told.description);
  add(svg, "rect", { class: "ground", width: plan.width, height: layout.height, fill: colors.ground });
  const canvas: Canvas = { root: svg, colors, axis: plan.axis, id };
  const group = (name: string) => add(svg, "g", { class: name });
  drawHeader(canvas, composition);
  const states = rows.length > 0 ? group("panel states") : null;
  if (states) drawStateBars(canvas, states, rows, layout.states);
  const grounds = panels.map(({ panel }) => group(`panel ${panel.name}`));
  for (const [i, { panel, place, scale }] of panels.entries()) panel.drawGround(canvas, grounds[i], place.frame, scale);
  const frames = ruledFrames(composition);
  const marks = group("events");
  if (plan.axis.gap) drawGap(canvas, marks, frames, plan.axis.gap);
  if (plan.bare) drawZero(canvas, marks, composition, frames);
  else drawEventRules(canvas, marks, list, frames);
  for (const { panel, place, scale } of panels) {
    const curves = group(`curves ${panel.name}`);
    panel.drawCurves(curves, place.frame, scale);
    if (plan.bare) continue;
    write(canvas, curves, plan.columns.outerLeft, place.headingY, panel.heading, { bold: true });
    drawLegend(canvas, curves, place.legend(scale.position));
  }
  if (!plan.bare) drawEventMarks(canvas, marks, list, layout.marks.middle, layout.marks.bottom);
  if (states) drawStateTags(canvas, group("state-tags"), rows, layout.states, plan.bare ? placeLastingTags : placeTags);
  drawTimeAxis(canvas, composition);
  if (!plan.bare) drawEventList(canvas, group("event-list"), listLayout, layout.listTop);
  return svg;
}

function drawHeader(canvas: Canvas, { layout, plan, panels }: Composition): void {
  const header = add(canvas.root, "g", { class: "header" });
  const { outerLeft, outerRight } = plan.columns;
  for (const { text, y } of layout.title) {
    write(canvas, header, outerLeft, y, text, { size: layout.titleSize, bold: true });
    if (!plan.bare) continue;
    const units = panels.map(({ panel }) => panel.heading).join(", ");
    write(canvas, header, outerRight, y, units, { anchor: "end", color: canvas.colors.muted });
  }
  for (const { text, y } of layout.subtitle) {
    write(canvas, header, outerLeft, y, text, { size: layout.subtitleSize });
  }
  for (const { text, y } of layout.facts) {
    write(canvas, header, outerLeft, y, text, { size: factsSize, color: canvas.colors.muted });
  }
}

/** Without a list of events only the instant after which times are counted is marked. */
function drawZero(canvas: Canvas, parent: Element, { plan, zero }: Composition, frames: readonly Frame[]): void {
  if (zero < plan.range[0] || zero > plan.range[1]) return;
  for (const { top, bottom } of frames) {
    const style = { class: "rule", stroke: canvas.colors.rule, "stroke-width": 0.9 };
    verticalLine(parent, plan.axis.position(zero), top, bottom, style);
  }
}

function drawGap(
  canvas: Canvas,
  parent: Element,
  frames: readonly Frame[],
  gap: { left: number; right: number },
): void {
  for (const { top, bottom } of frames) {
    const place = { x: gap.left + 1, y: top - 1, width: gap.right - gap.left - 2, height: bottom - top + 2 };
    add(parent, "rect", { class: "gap", ...place, fill: canvas.colors.ground });
    for (const x of [gap.left + 1, gap.right - 1]) {
      verticalLine(parent, x, top, bottom, {
        stroke: canvas.colors.axis,
        "stroke-dasharray": "2 2",
        "stroke-width": 0.8,
      });
    }
  }
}

function drawTimeAxis(canvas: Canvas, { layout, plan }: Composition): void {
  const { axis, columns } = plan;
  const parent = add(canvas.root, "g", { class: "time-axis" });
  const top = layout.axisY - 13;
  for (const x of axis.minorTicks) verticalLine(parent, x, top, top + 3, { stroke: canvas.colors.axis });
  for (const tick of axis.ticks) {
    verticalLine(parent, tick.x, top, top + 5, { stroke: canvas.colors.axis });
    write(canvas, parent, tick.labelX, layout.axisY, tick.label, { anchor: "middle", color: canvas.colors.muted });
  }
  if (plan.bare) return;
  write(canvas, parent, columns.outerLeft, layout.axisTitleY, axis.title, { bold: true });
  if (!plan.narrow) {
    const kind = axis.kind === "logarithmic" ? "logarithmic scale" : "linear scale";
    write(canvas, parent, columns.legendLeft, layout.axisY, kind, { color: canvas.colors.muted });
  }
}
