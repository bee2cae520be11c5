import { type Canvas, drawLegend, verticalLine, write } from "./canvas.ts";
import { checkWaveformData } from "./check.ts";
import { type CurrentPanel, currentPanel, currentScale } from "./current-panel.ts";
import { describeFigure } from "./describe.ts";
import { add, createSvg, type Frame } from "./draw.ts";
import { drawEventList, drawEventMarks, drawEventRules, layoutEventList } from "./event-list.ts";
import { type EventList, listEvents } from "./events.ts";
import { type Columns, type Content, type Layout, layOut, type PanelPlace, wideHeight } from "./layout.ts";
import { palette } from "./palette.ts";
import { headings, type Plan, type PlanOptions, planOf } from "./plan.ts";
import { drawStateBars, drawStateTags } from "./state-panel.ts";
import { fontFamily } from "./text.ts";
import type { TimeAxis } from "./time-axis.ts";
import type { FigureOptions, PanelName, WaveformData } from "./types.ts";
import type { ValueScale } from "./value-scale.ts";
import { type VoltagePanel, voltagePanel, voltageScale } from "./voltage-panel.ts";

const everyPanel: readonly PanelName[] = ["voltage", "current", "states"];

/**
 * What the radio saw, what flowed and what each device did, under one time axis, as one SVG element.
 *
 * @param data SI units, times in s since the start of the run; an instant may stand twice
 * @param options the document to draw in, size in CSS pixels, colours, time scale, part of the run to show
 * @returns an element that is not yet part of the document; its `<title>` and `<desc>` tell what it shows
 * @throws RangeError when the data are inconsistent or not finite, or the range is empty; all problems at once
 * @example container.append(faultFigure(data, { document, timeScale: "logarithmic" }));
 */
export function faultFigure(data: WaveformData, options: FigureOptions): SVGSVGElement {
  checkWaveformData(data);
  const plan = planOf(data, options);
  const wanted = new Set(options.panels ?? everyPanel);
  const colors = palette(options.scheme ?? "light");
  const voltage = wanted.has("voltage") && data.voltages.length > 0 ? voltagePanel(data, plan.axis, colors) : null;
  const current = wanted.has("current") && data.currents.length > 0 ? currentPanel(data, plan.axis, colors) : null;
  const rows = wanted.has("states") ? data.states : [];
  const { list, listLayout, layout } = fitted(data, plan, {
    ...plan,
    height: options.height ?? null,
    title: data.title,
    subtitle: data.subtitle,
    voltage: voltage?.legend ?? null,
    current: current?.legend ?? null,
    states: rows.length > 0 ? rows.map((row) => row.label) : null,
  });
  const id = options.id ?? "fault-figure";
  const svg = frameOf(options.document, plan.width, layout.height, colors.ground, colors.ink, id);
  describeFigure(svg, id, data, plan.axis, list);
  const canvas: Canvas = { root: svg, colors, axis: plan.axis, id };
  drawHeader(canvas, layout, plan.columns);
  drawPanels(canvas, { data, plan, layout, voltage, current, rows, list });
  drawTimeAxis(canvas, layout, plan);
  drawEventList(canvas, add(svg, "g", { class: "event-list" }), listLayout, layout.listTop);
  return svg;
}

/** The longest list of events with which the figure keeps its height; a short one where it must grow anyway. */
function fitted(data: WaveformData, plan: Plan, content: Omit<Content, "list">) {
  const attempt = (most: number) => {
    const list = listEvents(data.events, data.faultTime, plan.range, most);
    const listLayout = layoutEventList(list, plan.columns.outerLeft, plan.columns.outerRight);
    return { list, listLayout, layout: layOut({ ...content, list: listLayout }) };
  };
  if (plan.narrow) return attempt(8);
  const lengths = [9, 6, 4];
  for (const most of lengths) {
    const result = attempt(most);
    if (result.layout.height <= (content.height ?? wideHeight)) return result;
  }
  return attempt(6);
}

/**
 * The time axis that `faultFigure` draws with the same data and options: for brushes and pointers in a page.
 * `position` and `invert` translate between s since the start of the run and CSS pixels from the figure's left edge.
 */
export function figureTimeAxis(data: WaveformData, options: PlanOptions): TimeAxis {
  checkWaveformData(data);
  return planOf(data, options).axis;
}

function frameOf(document: Document, width: number, height: number, ground: string, ink: string, id: string) {
  const svg = createSvg(document, {
    width,
    height,
    viewBox: `0 0 ${width} ${height}`,
    role: "img",
    "aria-labelledby": `${id}-title ${id}-desc`,
    "font-family": fontFamily,
    color: ink,
  });
  add(svg, "rect", { class: "ground", width, height, fill: ground });
  return svg;
}

function drawHeader(canvas: Canvas, layout: Layout, columns: Columns): void {
  const header = add(canvas.root, "g", { class: "header" });
  for (const { text, y } of layout.title) {
    write(canvas, header, columns.outerLeft, y, text, { size: layout.titleSize, bold: true });
  }
  for (const { text, y } of layout.subtitle) {
    write(canvas, header, columns.outerLeft, y, text, { size: layout.subtitleSize });
  }
}

interface Parts {
  readonly data: WaveformData;
  readonly plan: Plan;
  readonly layout: Layout;
  readonly voltage: VoltagePanel | null;
  readonly current: CurrentPanel | null;
  readonly rows: WaveformData["states"];
  readonly list: EventList;
}

/** From back to front: tones, bands and grids, event rules, curves with their names, written tags. */
function drawPanels(canvas: Canvas, parts: Parts): void {
  const { layout, plan, voltage, current, rows, list } = parts;
  const group = (name: string) => add(canvas.root, "g", { class: name });
  const panels = [
    voltage &&
      layout.voltage &&
      placed("voltage", voltage, layout.voltage, voltageScale(voltage, layout.voltage.frame)),
    current &&
      layout.current &&
      placed("current", current, layout.current, currentScale(current, layout.current.frame)),
  ].filter((panel) => panel !== null);
  const states = rows.length > 0 ? group("panel states") : null;
  if (states) drawStateBars(canvas, states, rows, layout.states);
  const groups = panels.map((panel) => group(`panel ${panel.name}`));
  for (const [i, { panel, place, scale }] of panels.entries()) panel.drawGround(canvas, groups[i], place.frame, scale);
  const frames = ruledFrames(layout, plan.narrow);
  const marks = group("events");
  if (plan.axis.gap) drawGap(canvas, marks, frames, plan.axis.gap);
  drawEventRules(canvas, marks, list, frames);
  for (const { name, panel, place, scale } of panels) {
    const curves = group(`curves ${name}`);
    panel.drawCurves(curves, place.frame, scale);
    write(canvas, curves, plan.columns.outerLeft, place.headingY, headings[name], { bold: true });
    drawLegend(canvas, curves, place.legend(scale.position));
  }
  drawEventMarks(canvas, marks, list, layout.marks.middle, layout.marks.bottom);
  if (states) drawStateTags(canvas, group("state-tags"), rows, layout.states);
}

function placed(name: "voltage" | "current", panel: VoltagePanel | CurrentPanel, place: PanelPlace, scale: ValueScale) {
  return { name, panel, place, scale };
}

/** In the wide form one frame from the marks to the axis; in the narrow one text stands between the panels. */
function ruledFrames(layout: Layout, narrow: boolean): Frame[] {
  const panels = [layout.voltage?.frame, layout.current?.frame, ...layout.states.map((row) => row.bar)];
  const frames = panels.filter((frame) => frame !== undefined);
  if (narrow || frames.length === 0) return frames;
  return [{ ...frames[0], bottom: frames[frames.length - 1].bottom }];
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

function drawTimeAxis(canvas: Canvas, layout: Layout, plan: Plan): void {
  const { axis, columns } = plan;
  const parent = add(canvas.root, "g", { class: "time-axis" });
  const top = layout.axisY - 13;
  for (const x of axis.minorTicks) verticalLine(parent, x, top, top + 3, { stroke: canvas.colors.axis });
  for (const tick of axis.ticks) {
    verticalLine(parent, tick.x, top, top + 5, { stroke: canvas.colors.axis });
    write(canvas, parent, tick.labelX, layout.axisY, tick.label, { anchor: "middle", color: canvas.colors.muted });
  }
  write(canvas, parent, columns.outerLeft, layout.axisTitleY, axis.title, { bold: true });
  if (!plan.narrow) {
    const kind = axis.kind === "logarithmic" ? "logarithmic scale" : "linear scale";
    write(canvas, parent, columns.legendLeft, layout.axisY, kind, { color: canvas.colors.muted });
  }
}
