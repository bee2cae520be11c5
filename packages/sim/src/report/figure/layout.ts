import type { Frame } from "./draw.ts";
import type { EventListLayout } from "./event-list.ts";
import { columnHeight, columnLegend, flowLegend, type LegendItem, type PlacedItem } from "./legend.ts";
import { noNote, type RowNote } from "./state-notes.ts";
import type { RowFrame } from "./state-panel.ts";
import { factsSize, fitSubtitle, fitTitle, shorten, textWidth, wrap } from "./text.ts";
import type { TimeAxis } from "./time-axis.ts";
import type { ValuePanel } from "./value-panel.ts";

/** What the layout must know of the content. */
export interface Content {
  readonly width: number;
  readonly height: number | null;
  readonly narrow: boolean;
  readonly title: string;
  readonly subtitle: string;
  readonly facts: string;
  readonly panels: readonly Pick<ValuePanel, "legend" | "least" | "share">[];
  /** Names of the devices whose states are drawn. */
  readonly devices: readonly string[];
  /** Of the same devices: what their bars do not say. */
  readonly notes: readonly RowNote[];
  readonly list: EventListLayout;
  readonly columns: Columns;
  readonly axis: Pick<TimeAxis, "title" | "ticks">;
  /** Closer rows and lower plots than one would choose. */
  readonly compact: boolean;
}

/** The three columns of the wide form: names and numbers, plot, legend. */
export interface Columns {
  readonly outerLeft: number;
  readonly plotLeft: number;
  readonly plotRight: number;
  readonly legendLeft: number;
  readonly outerRight: number;
}

export interface TextLine {
  readonly text: string;
  readonly y: number;
}

export interface PanelPlace {
  readonly frame: Frame;
  readonly headingY: number;
  /** In the narrow form the legend's places are final; in the wide one they depend on the scale. */
  legend(position: (value: number) => number): PlacedItem[];
}

export interface Layout {
  readonly height: number;
  readonly title: readonly TextLine[];
  readonly subtitle: readonly TextLine[];
  readonly facts: readonly TextLine[];
  readonly titleSize: number;
  readonly subtitleSize: number;
  readonly marks: { readonly middle: number; readonly bottom: number };
  /** In the order of the panels. */
  readonly panels: readonly PanelPlace[];
  readonly states: readonly RowFrame[];
  readonly axisY: number;
  readonly axisTitleY: number;
  readonly listTop: number;
}

const outer = 18;
const marksHeight = 22;
const panelGap = 16;
const barHeight = 20;
const headingHeight = 19;

export function columnsOf(width: number, narrow: boolean, leftWidth: number, rightWidth: number): Columns {
  const side = narrow ? 14 : 20;
  const outerRight = width - side;
  if (narrow) {
    return { outerLeft: side, plotLeft: side + 34, plotRight: outerRight, legendLeft: side, outerRight };
  }
  const plotRight = outerRight - rightWidth - 14;
  return { outerLeft: side, plotLeft: side + leftWidth, plotRight, legendLeft: plotRight + 14, outerRight };
}

/** Stacks header, marks, panels, axis and list; the panels share what height is left. */
export function layOut(content: Content): Layout {
  const header = headerOf(content);
  const stateHeight = statesHeight(content);
  const titleBelow = content.narrow || !axisTitleFits(content);
  const axisHeight = titleBelow ? 40 : 26;
  const listHeight = content.list.height > 0 ? content.list.height + 8 : 0;
  const lastGap = stateHeight === 0 ? panelGap : content.compact ? 2 : 4;
  const fixed = header.bottom + marksHeight + stateHeight + axisHeight + listHeight + outer - 6 - lastGap;
  const heights = panelHeights(content, (content.height ?? 0) - fixed);

  let y = header.bottom + (content.narrow && content.panels.length > 0 ? 0 : marksHeight);
  const panels: PanelPlace[] = [];
  for (const [i, { legend }] of content.panels.entries()) {
    const place = placePanel(content, legend, y, heights[i], i === 0 ? marksHeight : 0);
    panels.push(place);
    y = place.frame.bottom + panelGap;
  }
  const marksBottom = panels[0]?.frame.top ?? header.bottom + marksHeight;
  const states = placeStates(content, y);
  const plotBottom = states.at(-1)?.bar.bottom ?? y - panelGap;
  const axisY = plotBottom + 14;
  const listTop = plotBottom + axisHeight + 8;
  return {
    ...header,
    height: Math.ceil(Math.max(content.height ?? 0, listTop + content.list.height + outer - 6) - 1e-6),
    marks: { middle: marksBottom - marksHeight / 2 - 2, bottom: marksBottom },
    panels,
    states,
    axisY,
    axisTitleY: titleBelow ? axisY + 16 : axisY,
    listTop,
  };
}

/** Whether the axis' title has room left of its first number. */
function axisTitleFits({ axis, columns }: Content): boolean {
  const first = axis.ticks[0];
  const left = first === undefined ? columns.plotLeft : first.labelX - textWidth(first.label, 12) / 2;
  return columns.outerLeft + textWidth(axis.title, 12, true) + 8 <= left;
}

function headerOf(content: Content) {
  const { narrow, columns } = content;
  const room = columns.outerRight - columns.outerLeft;
  const titled = fitTitle(content.title, narrow, room);
  const subtitled = fitSubtitle(content.subtitle, narrow, room, narrow ? 4 : 2);
  let y = outer - 4;
  const stack = (lines: readonly string[], height: number): TextLine[] =>
    lines.map((text) => {
      y += height;
      return { text, y: y - height / 2 };
    });
  const title = stack(titled.lines, titled.size * 1.3);
  const subtitle = stack(subtitled.lines, subtitled.size * 1.4);
  const facts = stack(wrap(content.facts, factsSize, room, narrow ? 4 : 2), factsSize * 1.4);
  return { title, subtitle, facts, titleSize: titled.size, subtitleSize: subtitled.size, bottom: y + 8 };
}

/** In the narrow form heading and legend stand above the frame, in the wide one beside it. */
function headRoom(content: Content, items: readonly LegendItem[]): number {
  if (!content.narrow) return 0;
  const { outerLeft, outerRight } = content.columns;
  return headingHeight + flowLegend(items, outerLeft, outerRight, 0).height + 6;
}

/** Each panel gets its share of what height is left, or what it needs at least. */
function panelHeights(content: Content, room: number): number[] {
  const { narrow, columns, panels, compact } = content;
  const above = panels.map(({ legend }) => headRoom(content, legend) + (narrow ? 0 : panelGap));
  const least = panels.map(({ legend, least }) => {
    const beside = narrow ? 0 : columnHeight(legend, columns.outerRight - columns.legendLeft);
    return Math.max((narrow ? least.narrow : least.wide) * (compact ? 0.65 : 1), beside);
  });
  const rest = (from: number, values: readonly number[]) => values.slice(from).reduce((sum, value) => sum + value, 0);
  let free = room - rest(0, above);
  return panels.map(({ share }, i) => {
    const parts = rest(
      i,
      panels.map((panel) => panel.share),
    );
    const height = Math.max(least[i], Math.min((free * share) / parts, free - rest(i + 1, least)));
    free -= height;
    return height;
  });
}

function placePanel(
  content: Content,
  items: readonly LegendItem[],
  top: number,
  height: number,
  gapBelowLegend: number,
): PanelPlace {
  const { narrow, columns } = content;
  const frameTop = narrow ? top + headRoom(content, items) + gapBelowLegend : top;
  const frame = { left: columns.plotLeft, right: columns.plotRight, top: frameTop, bottom: frameTop + height };
  const beside = { left: columns.legendLeft, right: columns.outerRight, top: frame.top, bottom: frame.bottom };
  return {
    frame,
    headingY: narrow ? top + headingHeight / 2 : top + 7,
    legend: (position) =>
      narrow
        ? flowLegend(items, columns.outerLeft, columns.outerRight, top + headingHeight).placed
        : columnLegend(items, position, beside),
  };
}

const noteLine = 15;

function rowHeight({ narrow, compact, notes }: Content, row: number): number {
  const { lines, beside } = notes[row] ?? noNote;
  if (narrow) return barHeight + 21 + (beside ? 0 : noteLine * lines.length);
  return Math.max(barHeight + (compact ? 0 : 4), lines.length > 1 ? noteLine * lines.length + 4 : 0);
}

function statesHeight(content: Content): number {
  return content.devices.reduce((sum, _, row) => sum + rowHeight(content, row), 0);
}

function placeStates(content: Content, top: number): RowFrame[] {
  const { narrow, columns, compact, notes } = content;
  let rowTop = top;
  return content.devices.map((label, i) => {
    const height = rowHeight(content, i);
    const { lines, beside } = notes[i] ?? noNote;
    const barTop = rowTop + height - barHeight - (compact && !narrow ? 0 : 4);
    const bottom = barTop + barHeight - (compact ? 2 : 0);
    const nameY = narrow ? rowTop + 8 : barTop + barHeight / 2 - (compact ? 1 : 0);
    const room = (narrow ? columns.outerRight : columns.plotLeft - 8) - columns.outerLeft;
    // Beside its bar a longer note grows upwards: below stands the axis.
    const lastLine = lines.length > 1 ? barTop + barHeight - noteLine / 2 : nameY;
    const firstLine = narrow ? nameY + (beside ? 0 : noteLine) : lastLine - (lines.length - 1) * noteLine;
    rowTop += height;
    return {
      bar: { left: columns.plotLeft, right: columns.plotRight, top: barTop, bottom },
      nameX: columns.outerLeft,
      nameY,
      name: shorten(label, 12, room),
      note: lines.map((text, line) => ({ text, y: firstLine + line * noteLine })),
      noteX: narrow ? (beside ? columns.outerRight : columns.outerLeft) : columns.legendLeft,
      noteEnds: narrow && beside,
    };
  });
}
