import { write } from "../canvas.ts";
import { outer, type Page } from "../chart.ts";
import { add } from "../draw.ts";
import { wrap } from "../text.ts";
import { type Block, blockOf, branchBlock, drawBlock, partsBlock, type Telling } from "./block.ts";
import { drawGround, drawNode, drawSymbol, drawWire, symbolLength } from "./symbols.ts";
import type { LineBranch, LineDiagramData, LinePart } from "./types.ts";

/** A diagram whose parts have their places: sources left, loads right, the protectors between them. */
export interface Placed {
  readonly height: number;
  /** Those that found no room. */
  readonly left: readonly string[];
  draw(parent: Element): void;
}

interface Columns {
  readonly box: number;
  readonly lead: number;
  readonly middle: number;
}

interface Row {
  readonly branch: LineBranch;
  readonly box: Block;
  readonly leadLines: readonly string[];
  readonly inLead: Block;
  readonly height: number;
}

const slot = { series: 128, across: 134, pair: 176, reading: 62, least: 40 } as const;
const betweenSlots = 8;
const pad = 9;
const rowGap = 12;
const belowHub = 110;

/** Lays the line out from left to right below `page.top`, as much of each part told as fits. */
export function placeWide(page: Page, data: LineDiagramData, telling: Telling): Placed {
  const columns = columnsOf(page, data);
  const rowOf = (branch: LineBranch): Row => rowFor(branch, columns, telling);
  const free = page.height - page.top - outer;
  const sides = [data.sources.map(rowOf), data.loads.map(rowOf)].map((rows) =>
    page.fixed ? fitting(rows, free) : rows,
  );
  const [sources, loads] = sides;
  const left = [...data.sources.slice(sources.length), ...data.loads.slice(loads.length)].map(({ part }) => part.name);
  const { above, below } = extentsOf(data, telling, [sources, loads]);
  const needed = above + below;
  const body = page.fixed ? free : Math.max(needed, Math.min(free, needed + 40));
  const hub = page.top + above + (body - needed) / 2;
  const height = Math.max(page.fixed ? page.height : 0, Math.ceil(page.top + body + outer));
  return {
    height,
    left,
    draw: (parent) => drawAll(page, parent, data, { columns, sources, loads, telling, hub }),
  };
}

/** Whether everything is told without leaving anything out. */
export function fitsWide(page: Page, data: LineDiagramData, telling: Telling): boolean {
  const columns = columnsOf(page, data);
  const rows = (branches: readonly LineBranch[]) => branches.map((branch) => rowFor(branch, columns, telling));
  const { above, below } = extentsOf(data, telling, [rows(data.sources), rows(data.loads)]);
  return above + below <= page.height - page.top - outer;
}

function columnsOf(page: Page, data: LineDiagramData): Columns {
  const room = page.right - page.left;
  const widths = slotsOf(data);
  const middle = Math.max(
    slot.least,
    widths.reduce((sum, width) => sum + width, 0) + betweenSlots * (widths.length + 1),
  );
  const box = Math.max(138, Math.min(196, (room - middle - 240) / 2));
  const lead = Math.min(184, (room - middle - 2 * box) / 2);
  return { box, lead, middle: room - 2 * box - 2 * lead };
}

/** Two parts across the line share a node: one hangs down, one stands up. */
function pairsOf(across: readonly LinePart[]): readonly (readonly LinePart[])[] {
  return across.flatMap((_, i) => (i % 2 === 0 ? [across.slice(i, i + 2)] : []));
}

/** How wide each thing between the sources and the loads is, in their order. */
function slotsOf({ mainFuse, across, seriesSwitch, readings }: LineDiagramData): readonly number[] {
  return [
    ...(mainFuse === null ? [] : [slot.series]),
    ...pairsOf(across).map((pair) => (pair.length > 1 ? slot.pair : slot.across)),
    ...(across.length === 0 && readings.protectedSide !== null ? [slot.reading] : []),
    ...(seriesSwitch === null ? [] : [slot.series]),
  ];
}

function rowFor(branch: LineBranch, { box, lead }: Columns, telling: Telling): Row {
  const room = lead - 16;
  const told = branchBlock(branch, box - 2 * pad, telling);
  const leadLines = wrap(branch.lead, 12, room, 2);
  const inLead = partsBlock(branch.inLead, room, telling);
  const above = 10 + leadLines.length * 15;
  const below = inLead.height + 14;
  return { branch, box: told, leadLines, inLead, height: Math.max(told.height + 2 * pad, 2 * Math.max(above, below)) };
}

const heightOf = (rows: readonly Row[]): number =>
  rows.reduce((sum, { height }) => sum + height, 0) + rowGap * Math.max(0, rows.length - 1);

function fitting(rows: readonly Row[], free: number): readonly Row[] {
  let kept = rows.length;
  while (kept > 1 && heightOf(rows.slice(0, kept)) > free) kept -= 1;
  return rows.slice(0, kept);
}

/** What is needed above and below the wire in the middle. */
function extentsOf(
  { across, mainFuse, seriesSwitch }: LineDiagramData,
  telling: Telling,
  sides: readonly (readonly Row[])[],
): { readonly above: number; readonly below: number } {
  const half = Math.max(...sides.map((rows) => heightOf(rows) / 2));
  const hung = across.map((part) => Math.max(belowHub, 16 + blockOf(part, slot.across - 34, telling).height));
  const onTheWay = [mainFuse, seriesSwitch].flatMap((part) => (part === null ? [] : [part]));
  const names = onTheWay.map((part) => {
    return 18 + blockOf({ ...part, state: null, reading: null }, slot.series - 8, telling).height;
  });
  const states = onTheWay.map((part) => {
    return 16 + blockOf({ ...part, details: [] }, slot.series - 8, telling, false).height;
  });
  return {
    above: Math.max(half, 24, ...names, ...hung.filter((_, i) => i % 2 === 1)),
    below: Math.max(half, 24, ...states, ...hung.filter((_, i) => i % 2 === 0)),
  };
}

interface Whole {
  readonly columns: Columns;
  readonly sources: readonly Row[];
  readonly loads: readonly Row[];
  readonly telling: Telling;
  /** Height of the wire in the middle. */
  readonly hub: number;
}

function drawAll(page: Page, parent: Element, data: LineDiagramData, whole: Whole): void {
  const { columns, sources, loads, telling, hub } = whole;
  const busLeft = page.left + columns.box + columns.lead;
  const busRight = page.right - columns.box - columns.lead;
  const wires = add(parent, "g", { class: "wires" });
  const parts = add(parent, "g", { class: "parts" });
  drawSide(page, parts, wires, sources, { box: page.left, bus: busLeft, hub, columns, isSource: true });
  drawSide(page, parts, wires, loads, { box: page.right - columns.box, bus: busRight, hub, columns, isSource: false });
  drawWire(page, wires, [
    [busLeft, hub],
    [busRight, hub],
  ]);
  drawMiddle(page, parts, wires, data, { from: busLeft, to: busRight, hub, telling });
}

interface Side {
  readonly box: number;
  readonly bus: number;
  readonly hub: number;
  readonly columns: Columns;
  readonly isSource: boolean;
}

function drawSide(page: Page, parts: Element, wires: Element, rows: readonly Row[], side: Side): void {
  const { box, bus, hub, columns, isSource } = side;
  let top = hub - heightOf(rows) / 2;
  const middles = rows.map((row) => {
    const middle = top + row.height / 2;
    top += row.height + rowGap;
    return middle;
  });
  for (const [i, row] of rows.entries()) drawRow(row, middles[i]);
  const ends = [hub, ...middles];
  drawWire(page, wires, [
    [bus, Math.min(...ends)],
    [bus, Math.max(...ends)],
  ]);
  if (rows.length > 1) drawNode(page, parts, bus, hub);

  function drawRow(row: Row, y: number): void {
    const edge = isSource ? box + columns.box : box;
    drawWire(page, wires, [
      [edge, y],
      [bus, y],
    ]);
    const height = row.box.height + 2 * pad;
    const { ground, axis } = page.colors;
    const group = add(parts, "g", { class: `branch ${row.branch.part.kind}` });
    const frame = { x: box, y: y - height / 2, width: columns.box, height, rx: 6 };
    add(group, "rect", { ...frame, fill: ground, stroke: axis, "stroke-width": 1.4 * page.weight });
    drawBlock(page, group, row.box, box + pad, y - row.box.height / 2, columns.box - 2 * pad);
    const from = Math.min(edge, bus);
    const room = columns.lead - 16;
    const middle = from + columns.lead / 2;
    for (const [i, text] of row.leadLines.entries()) {
      const line = y - 16 - (row.leadLines.length - 1 - i) * 15;
      write(page, group, middle, line, text, { anchor: "middle", halo: true });
    }
    const { inLead } = row.branch;
    const step = Math.min(symbolLength + 12, columns.lead / (inLead.length + 1));
    for (const [i, part] of inLead.entries()) {
      const place = middle + (isSource ? 1 : -1) * (i - (inLead.length - 1) / 2) * step;
      drawSymbol(page, group, part, place, y);
    }
    drawBlock(page, group, row.inLead, middle, y + 12, room, "middle");
  }
}

function drawMiddle(
  page: Page,
  parts: Element,
  wires: Element,
  data: LineDiagramData,
  { from, to, hub, telling }: { from: number; to: number; hub: number; telling: Telling },
): void {
  const { mainFuse, across, seriesSwitch, readings } = data;
  const widths = slotsOf(data);
  const spare = (to - from - widths.reduce((sum, width) => sum + width, 0)) / (widths.length + 1);
  let x = from + spare;
  const next = (width: number): number => {
    const place = x;
    x += width + spare;
    return place;
  };
  const reading = (text: string | null, at: number): void => {
    if (text !== null) write(page, parts, at, hub - 15, text, { size: 13, bold: true, anchor: "middle", halo: true });
  };
  if (mainFuse) onTheWay(mainFuse, next(slot.series));
  for (const [i, pair] of pairsOf(across).entries()) {
    const [down, up] = pair;
    const at = next(up ? slot.pair : slot.across) + (up ? 62 : 22);
    if (i === 0) reading(readings.protectedSide, up ? at - 36 : at);
    hung(down, at, "down");
    if (up) hung(up, at, "up");
  }
  if (across.length === 0 && readings.protectedSide !== null)
    reading(readings.protectedSide, next(slot.reading) + slot.reading / 2);
  if (seriesSwitch) onTheWay(seriesSwitch, next(slot.series));

  function onTheWay(part: LinePart, left: number): void {
    const middle = left + slot.series / 2;
    const group = add(parts, "g", { class: "on-the-way" });
    drawSymbol(page, group, part, middle, hub);
    const named = blockOf({ ...part, state: null, reading: null }, slot.series - 8, telling);
    drawBlock(page, group, named, middle, hub - 16 - named.height, slot.series - 8, "middle");
    const state = blockOf({ ...part, details: [] }, slot.series - 8, telling, false);
    drawBlock(page, group, state, middle, hub + 14, slot.series - 8, "middle");
  }

  function hung(part: LinePart, at: number, way: "down" | "up"): void {
    const group = add(parts, "g", { class: "across" });
    const sign = way === "down" ? 1 : -1;
    const end = hub + sign * (belowHub - 18);
    drawWire(page, wires, [
      [at, hub],
      [at, end],
    ]);
    drawNode(page, group, at, hub);
    drawSymbol(page, group, part, at, hub + sign * 46, way);
    drawGround(page, group, at, end, way);
    const room = slot.across - 34;
    const told = blockOf(part, room, telling);
    drawBlock(page, group, told, at + 16, way === "down" ? hub + 14 : hub - 14 - told.height, room);
  }
}
