import { badgeWidth, type Canvas, drawBadge, verticalLine, write } from "./canvas.ts";
import { add, type Frame, rounded } from "./draw.ts";
import { type EventList, type ListedEvent, type Mark, placeMarks } from "./events.ts";
import { textWidth, wrap } from "./text.ts";
import type { TimeAxis } from "./time-axis.ts";

interface Entry {
  /** Null for the closing line that tells what is not listed. */
  readonly event: ListedEvent | null;
  readonly lines: readonly string[];
  readonly x: number;
  /** Middle of the first line, from the top of the list. */
  readonly y: number;
}

export interface EventListLayout {
  readonly entries: readonly Entry[];
  readonly whenWidth: number;
  readonly columnWidth: number;
  readonly height: number;
}

const typeSize = 12;
export const lineHeight = 15;
const rowGap = 4;
const badgeRoom = 22;
const columnGap = 20;
const sharedRule = 2;

/**
 * Sets the list in as many columns as make it lowest without cutting words off.
 * @param unshown devices whose states found no room
 * @param mostLines of one entry
 */
export function layoutEventList(
  list: EventList,
  left: number,
  right: number,
  unshown: readonly string[] = [],
  mostLines = 2,
): EventListLayout {
  const whenWidth = Math.max(0, ...list.listed.map((event) => textWidth(event.when, typeSize, true))) + 8;
  const items: Item[] = list.listed.map((event) => ({ event, text: event.text }));
  const leftOut = [
    ...(list.omitted > 0 ? [`and ${list.omitted} more, not marked`] : []),
    ...(unshown.length > 0 ? [`no room for: ${unshown.join(", ")}`] : []),
  ];
  if (leftOut.length > 0) items.push({ event: null, text: leftOut.join("; ") });
  const attempts = [3, 2, 1]
    .filter((columns) => columns === 1 || (right - left) / columns > 240)
    .map((columns) => columnsOf(items, columns, left, right, whenWidth, mostLines));
  const cut = (attempt: { entries: Entry[] }) => attempt.entries.filter((e) => e.lines.join("").includes("…")).length;
  const best = attempts.reduce((a, b) => (cut(b) < cut(a) || (cut(b) === cut(a) && b.height < a.height) ? b : a));
  return { ...best, whenWidth };
}

interface Item {
  readonly event: ListedEvent | null;
  readonly text: string;
}

function columnsOf(
  items: readonly Item[],
  columns: number,
  left: number,
  right: number,
  whenWidth: number,
  mostLines: number,
) {
  const width = (right - left - (columns - 1) * columnGap) / columns;
  const perColumn = Math.ceil(items.length / columns);
  const entries: Entry[] = [];
  let height = 0;
  let y = 0;
  for (const [i, { event, text }] of items.entries()) {
    if (i % perColumn === 0) y = 0;
    const lines = wrap(text, typeSize, width - badgeRoom - whenWidth, mostLines);
    const x = left + Math.floor(i / perColumn) * (width + columnGap);
    entries.push({ event, lines, x, y: y + lineHeight / 2 + 1 });
    y += lines.length * lineHeight + rowGap;
    height = Math.max(height, y);
  }
  return { entries, columnWidth: width, height };
}

export function drawEventList(canvas: Canvas, parent: Element, layout: EventListLayout, top: number): void {
  for (const { event, lines, x, y } of layout.entries) {
    const item = add(parent, "g", { class: "event", ...(event === null ? {} : pointing([event])) });
    if (event !== null) {
      drawBadge(canvas, item, x + 8, top + y, String(event.number));
      write(canvas, item, x + badgeRoom, top + y, event.when, { bold: true });
    }
    const style = event === null ? { color: canvas.colors.muted } : {};
    for (const [i, text] of lines.entries()) {
      write(canvas, item, x + badgeRoom + layout.whenWidth, top + y + i * lineHeight, text, style);
    }
  }
}

/** Thin rules through the panels; events closer than two pixels share a rule. */
export function drawEventRules(canvas: Canvas, parent: Element, list: EventList, frames: readonly Frame[]): void {
  let last = -Infinity;
  for (const x of list.listed.map((event) => canvas.axis.position(event.time))) {
    if (x < last + sharedRule) continue;
    last = x;
    for (const frame of frames) {
      verticalLine(parent, x, frame.top, frame.bottom, {
        class: "rule",
        stroke: canvas.colors.rule,
        "stroke-width": 0.9,
      });
    }
  }
}

/** Which of the data's events a mark stands for: a page finds it by that. */
function pointing(events: readonly ListedEvent[]): { readonly "data-event": string } {
  return { "data-event": events.flatMap(({ indices }) => indices).join(" ") };
}

/** Places the numbered marks above the panels. */
export function placedMarks(axis: TimeAxis, list: EventList): Mark[] {
  const positions = list.listed.map((event) => axis.position(event.time));
  return placeMarks(positions, axis.left - 8, axis.right + 8, badgeWidth);
}

/** The events that a mark stands for. */
export function marked({ listed }: EventList, { first, last }: Mark): readonly ListedEvent[] {
  return listed.filter(({ number }) => number >= first && number <= last);
}

/** Closer strokes run together into a bar, and a bar above the plot reads as a value; CSS pixels. */
const strokeGap = 3;

/** Numbered marks above the panels; repetitions are a row of short strokes beneath them, as many as can be told apart. */
export function drawEventMarks(canvas: Canvas, parent: Element, list: EventList, middle: number, bottom: number): void {
  const { axis, colors } = canvas;
  const taken = new Set<number>();
  for (const event of list.listed) {
    const strokes: number[] = [];
    for (const x of event.repetitions.map((time) => Math.round(axis.position(time)))) {
      if (taken.has(x)) continue;
      strokes.push(x);
      for (let near = 1 - strokeGap; near < strokeGap; near++) taken.add(x + near);
    }
    if (strokes.length === 0) continue;
    const group = add(parent, "g", { class: "repetitions", ...pointing([event]) });
    const d = strokes.map((x) => `M${x},${rounded(bottom - 5)}V${rounded(bottom)}`).join("");
    add(group, "path", { d, fill: "none", stroke: colors.muted, "stroke-width": 1 });
  }
  for (const mark of placedMarks(axis, list)) {
    const group = add(parent, "g", { class: "event-mark", ...pointing(marked(list, mark)) });
    drawBadge(canvas, group, mark.x, middle, mark.label);
  }
}
