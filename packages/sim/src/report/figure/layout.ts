import type { Frame } from "./draw.ts";
import type { EventListLayout } from "./event-list.ts";
import { columnHeight, columnLegend, flowLegend, type LegendItem, type PlacedItem } from "./legend.ts";
import type { RowFrame } from "./state-panel.ts";
import { shorten, wrap } from "./text.ts";

/** What the layout must know of the content; a panel that is not asked for is null. */
export interface Content {
  readonly width: number;
  readonly height: number | null;
  readonly narrow: boolean;
  readonly title: string;
  readonly subtitle: string;
  readonly voltage: readonly LegendItem[] | null;
  readonly current: readonly LegendItem[] | null;
  readonly states: readonly string[] | null;
  readonly list: EventListLayout;
  readonly columns: Columns;
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
  readonly titleSize: number;
  readonly subtitleSize: number;
  readonly marks: { readonly middle: number; readonly bottom: number };
  readonly voltage: PanelPlace | null;
  readonly current: PanelPlace | null;
  readonly states: readonly RowFrame[];
  readonly axisY: number;
  readonly axisTitleY: number;
  readonly listTop: number;
}

/** 16:9 with the default width. */
export const wideHeight = 540;
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
  const axisHeight = content.narrow ? 40 : 26;
  const listHeight = content.list.height > 0 ? content.list.height + 8 : 0;
  const fixed =
    header.bottom + marksHeight + stateHeight + axisHeight + listHeight + outer - 6 - (stateHeight > 0 ? 4 : panelGap);
  const panels = panelHeights(content, (content.height ?? (content.narrow ? 0 : wideHeight)) - fixed);

  let y = header.bottom;
  const voltageTop = content.narrow ? y : y + marksHeight;
  const voltage = content.voltage && placePanel(content, content.voltage, voltageTop, panels.voltage, marksHeight);
  const marksBottom = voltage && content.narrow ? voltage.frame.top : y + marksHeight;
  y = voltage ? voltage.frame.bottom + panelGap : y + marksHeight;
  const current = content.current && placePanel(content, content.current, y, panels.current, 0);
  if (current) y = current.frame.bottom + panelGap;
  const states = placeStates(content, y);
  const plotBottom = states.at(-1)?.bar.bottom ?? y - panelGap;
  const axisY = plotBottom + 14;
  const listTop = plotBottom + axisHeight + 8;
  return {
    ...header,
    height: Math.ceil(
      Math.max(content.height ?? (content.narrow ? 0 : wideHeight), listTop + content.list.height + outer - 6),
    ),
    marks: { middle: marksBottom - marksHeight / 2 - 2, bottom: marksBottom },
    voltage,
    current,
    states,
    axisY,
    axisTitleY: content.narrow ? axisY + 16 : axisY,
    listTop,
  };
}

function headerOf(content: Content) {
  const { narrow, columns } = content;
  const room = columns.outerRight - columns.outerLeft;
  const titleSize = narrow ? 17 : 21;
  const subtitleSize = narrow ? 13 : 15;
  let y = outer - 4;
  const stack = (lines: readonly string[], height: number): TextLine[] =>
    lines.map((text) => {
      y += height;
      return { text, y: y - height / 2 };
    });
  const title = stack(wrap(content.title, titleSize, room, narrow ? 3 : 2, true), titleSize * 1.3);
  const subtitle = stack(wrap(content.subtitle, subtitleSize, room, narrow ? 4 : 2), subtitleSize * 1.4);
  return { title, subtitle, titleSize, subtitleSize, bottom: y + 8 };
}

/** In the narrow form heading and legend stand above the frame, in the wide one beside it. */
function headRoom(content: Content, items: readonly LegendItem[]): number {
  if (!content.narrow) return 0;
  const { outerLeft, outerRight } = content.columns;
  return headingHeight + flowLegend(items, outerLeft, outerRight, 0).height + 6;
}

function panelHeights(content: Content, room: number): { voltage: number; current: number } {
  const { narrow, columns } = content;
  const least = (items: readonly LegendItem[] | null, bare: number) => {
    if (items === null) return 0;
    const beside = narrow ? 0 : columnHeight(items, columns.outerRight - columns.legendLeft);
    return Math.max(bare, beside);
  };
  const above =
    (content.voltage ? headRoom(content, content.voltage) + (narrow ? 0 : panelGap) : 0) +
    (content.current ? headRoom(content, content.current) + (narrow ? 0 : panelGap) : 0);
  const minimum = { voltage: least(content.voltage, narrow ? 190 : 120), current: least(content.current, 90) };
  const free = room - above;
  const share = content.voltage && content.current ? 0.6 : content.voltage ? 1 : 0;
  const voltage = content.voltage ? Math.max(minimum.voltage, Math.min(free * share, free - minimum.current)) : 0;
  return { voltage, current: content.current ? Math.max(minimum.current, free - voltage) : 0 };
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

function rowHeight(narrow: boolean): number {
  return narrow ? barHeight + 21 : barHeight + 4;
}

function statesHeight(content: Content): number {
  return content.states === null ? 0 : content.states.length * rowHeight(content.narrow);
}

function placeStates(content: Content, top: number): RowFrame[] {
  const { narrow, columns } = content;
  return (content.states ?? []).map((label, i) => {
    const rowTop = top + i * rowHeight(narrow);
    const barTop = narrow ? rowTop + 17 : rowTop;
    const room = (narrow ? columns.outerRight : columns.plotLeft - 8) - columns.outerLeft;
    return {
      bar: { left: columns.plotLeft, right: columns.plotRight, top: barTop, bottom: barTop + barHeight },
      nameX: columns.outerLeft,
      nameY: narrow ? rowTop + 8 : barTop + barHeight / 2,
      name: shorten(label, 12, room),
    };
  });
}
