import { outer, type Page } from "../chart.ts";
import { add } from "../draw.ts";
import { type Block, blockOf, drawBlock, partsBlock, type Telling } from "./block.ts";
import { drawNode, drawSymbol, drawWire, symbolLength } from "./symbols.ts";
import type { LineBranch, LineDiagramData, LinePart } from "./types.ts";
import type { Placed } from "./wide.ts";

interface Row {
  readonly role: "branch" | "on the way" | "across";
  readonly part: LinePart;
  readonly block: Block;
  /** Of a branch: what lies in its lead. */
  readonly lead: Block | null;
  readonly height: number;
}

const gaps = { all: 12, short: 9, names: 7 } as const;
const textLeft = 56;

/** The line from top to bottom, for a telephone or beside another picture: sources, what lies on the way, loads, all on one upright wire. */
export function placeNarrow(page: Page, data: LineDiagramData, telling: Telling): Placed {
  const rows = rowsOf(page, data, telling);
  const free = page.height - page.top - outer;
  const gap = gaps[telling];
  const kept = page.fixed ? fitting(rows, free, gap) : rows;
  const needed = heightOf(kept, gap);
  return {
    height: page.fixed ? page.height : Math.ceil(page.top + needed + outer),
    left: rows.slice(kept.length).map(({ part }) => part.name),
    draw: (parent) => drawRows(page, parent, kept, page.top + (page.fixed ? Math.max(0, (free - needed) / 2) : 0), gap),
  };
}

/** Whether everything is told without leaving anything out. */
export function fitsNarrow(page: Page, data: LineDiagramData, telling: Telling): boolean {
  return heightOf(rowsOf(page, data, telling), gaps[telling]) <= page.height - page.top - outer;
}

const heightOf = (rows: readonly Row[], gap: number): number =>
  rows.reduce((sum, { height }) => sum + height, 0) + gap * Math.max(0, rows.length - 1);

function fitting(rows: readonly Row[], free: number, gap: number): readonly Row[] {
  let kept = rows.length;
  while (kept > 1 && heightOf(rows.slice(0, kept), gap) > free) kept -= 1;
  return rows.slice(0, kept);
}

function rowsOf(page: Page, data: LineDiagramData, telling: Telling): readonly Row[] {
  const room = page.right - page.left - textLeft;
  const row = (role: Row["role"], part: LinePart, block: Block, lead: Block | null = null): Row => {
    const height = Math.max(block.height + (lead?.height ?? 0), role === "branch" ? 20 : symbolLength + 6);
    return { role, part, block, lead, height };
  };
  const branch = (each: LineBranch): Row[] => [
    row("branch", each.part, blockOf(each.part, room, telling), leadBlock(each, room, telling)),
    ...each.across.map((part) => row("branch", part, blockOf(part, room, telling === "all" ? "short" : telling))),
  ];
  const onTheWay = (part: LinePart | null, reading: string | null): Row[] => {
    if (part === null) return [];
    const told = reading === null || part.reading !== null ? part : { ...part, reading };
    return [row("on the way", part, blockOf(told, room, telling))];
  };
  return [
    ...data.sources.flatMap(branch),
    ...onTheWay(data.mainFuse, null),
    ...data.across.map((part) => row("across", part, blockOf(part, room, telling))),
    ...onTheWay(data.seriesSwitch, null),
    ...data.loads.flatMap(branch),
  ];
}

function leadBlock({ lead, inLead }: LineBranch, room: number, telling: Telling): Block {
  if (telling !== "names") {
    const wire: LinePart = { kind: "contact", name: "lead", details: [`lead ${lead}`], state: null, reading: null };
    return partsBlock([wire, ...inLead], room, telling);
  }
  return partsBlock(inLead, room, telling);
}

function drawRows(page: Page, parent: Element, rows: readonly Row[], top: number, gap: number): void {
  const spine = page.left + 18;
  const text = page.left + textLeft;
  const room = page.right - text;
  const wires = add(parent, "g", { class: "wires" });
  const parts = add(parent, "g", { class: "parts" });
  let y = top;
  const middles = rows.map((row) => {
    const middle = row.role === "branch" ? y + 9 : y + Math.max(row.height, symbolLength) / 2;
    y += row.height + gap;
    return middle;
  });
  drawWire(page, wires, [
    [spine, middles[0] ?? top],
    [spine, middles[middles.length - 1] ?? top],
  ]);
  y = top;
  for (const [i, row] of rows.entries()) {
    const group = add(parts, "g", { class: row.role.replaceAll(" ", "-") });
    const middle = middles[i];
    if (row.role === "on the way") drawSymbol(page, group, row.part, spine, middle, "down");
    else {
      drawWire(page, wires, [
        [spine, middle],
        [text - 14, middle],
      ]);
      if (row.role === "across") drawSymbol(page, group, row.part, spine + 17, middle);
      else end(group, text - 14, middle);
      // On top of the ground that a symbol lays under itself.
      drawNode(page, group, spine, middle);
    }
    const blockTop = row.role === "branch" ? y : middle - row.block.height / 2;
    drawBlock(page, group, row.block, text, blockTop, room);
    if (row.lead !== null) drawBlock(page, group, row.lead, text, blockTop + row.block.height, room);
    y += row.height + gap;
  }

  function end(group: Element, x: number, at: number): void {
    const { ink, ground } = page.colors;
    add(group, "rect", {
      x: x - 5,
      y: at - 5,
      width: 10,
      height: 10,
      rx: 2,
      fill: ground,
      stroke: ink,
      "stroke-width": 1.6,
    });
  }
}
