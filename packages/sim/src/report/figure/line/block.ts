import { write } from "../canvas.ts";
import type { Page } from "../chart.ts";
import { add, rounded } from "../draw.ts";
import { shorten, textWidth, wrap } from "../text.ts";
import type { LineBranch, LinePart } from "./types.ts";

/** How much is told of each part where room is short: everything, the first detail, names and states. */
export type Telling = "all" | "short" | "names";

/** Texts of one part, one below the other. */
export interface Block {
  readonly items: readonly BlockItem[];
  readonly height: number;
}

type BlockItem =
  | {
      readonly kind: "text";
      readonly text: string;
      readonly size: number;
      readonly role: "name" | "detail" | "reading";
    }
  | {
      readonly kind: "tag";
      readonly state: NonNullable<LinePart["state"]>;
      readonly before: string;
      readonly bold: boolean;
    }
  | { readonly kind: "rule" };

const lineHeights = { name: 17, detail: 15, reading: 17 } as const;
const tagHeight = 22;
const ruleHeight = 13;
const tagType = 12;

/** What is written of a part in `room` pixels; `named` false: the name stands elsewhere. */
export function blockOf(part: LinePart, room: number, telling: Telling, named = true): Block {
  const text = (role: keyof typeof lineHeights, size: number, value: string, most: number): BlockItem[] =>
    wrap(value, size, room, most, role !== "detail").map((line) => ({ kind: "text", text: line, size, role }));
  const details = telling === "all" ? part.details : telling === "short" ? part.details.slice(0, 1) : [];
  return block([
    ...(named ? text("name", 13, part.name, 2) : []),
    ...details.flatMap((detail) => text("detail", 12, detail, telling === "all" ? 3 : 2)),
    ...seen(part, room, (reading) => text("reading", 13, reading, 1)),
  ]);
}

/** Reading and tag, beside each other where both fit. */
function seen({ reading, state }: LinePart, room: number, told: (reading: string) => BlockItem[]): BlockItem[] {
  if (state === null) return reading === null ? [] : told(reading);
  const tag = { kind: "tag", state, before: "", bold: true } as const;
  if (reading === null) return [tag];
  const beside = textWidth(reading, 13, true) + 8 + tagWidth(state.text) <= room;
  return beside ? [{ ...tag, before: reading }] : [...told(reading), tag];
}

/** A source or load with what lies across its terminals. */
export function branchBlock({ part, across }: LineBranch, room: number, telling: Telling): Block {
  const own = across.map((each) => blockOf(each, room, telling === "all" ? "short" : "names"));
  const parted = own.flatMap(({ items }): readonly BlockItem[] => [{ kind: "rule" }, ...items]);
  return block([...blockOf(part, room, telling).items, ...parted]);
}

/** What lies in a lead, each with its tag beside its name where both fit. */
export function partsBlock(parts: readonly LinePart[], room: number, telling: Telling): Block {
  return block(
    parts.flatMap((part): readonly BlockItem[] => {
      const name = telling === "names" ? part.name : (part.details[0] ?? part.name);
      if (part.state === null)
        return wrap(name, 12, room, 2).map((text) => ({ kind: "text", text, size: 12, role: "detail" }));
      if (textWidth(name, 12) + 8 + tagWidth(part.state.text) <= room)
        return [{ kind: "tag", state: part.state, before: name, bold: false }];
      return [
        ...wrap(name, 12, room, 2).map((text) => ({ kind: "text", text, size: 12, role: "detail" }) as const),
        { kind: "tag", state: part.state, before: "", bold: false },
      ];
    }),
  );
}

function block(items: readonly BlockItem[]): Block {
  const height = items.reduce((sum, item) => sum + heightOf(item), 0);
  return { items, height };
}

const heightOf = (item: BlockItem): number =>
  item.kind === "text" ? lineHeights[item.role] : item.kind === "tag" ? tagHeight : ruleHeight;

const tagWidth = (text: string): number => textWidth(text, tagType, true) + 14;

/** Writes a block below `top`; `anchor` tells what of it stands at `x`. */
export function drawBlock(
  page: Page,
  parent: Element,
  { items }: Block,
  x: number,
  top: number,
  room: number,
  anchor: "start" | "middle" = "start",
): void {
  let y = top;
  for (const item of items) {
    const height = heightOf(item);
    if (item.kind === "tag") drawTag(page, parent, item, x, y + height / 2, room, anchor);
    else if (item.kind === "rule")
      add(parent, "path", {
        d: `M${rounded(x)},${rounded(y + height / 2)}h${rounded(room)}`,
        stroke: page.colors.grid,
      });
    else {
      const color = item.role === "detail" ? page.colors.muted : page.colors.ink;
      const style = { size: item.size, bold: item.role !== "detail", color, anchor, halo: true } as const;
      write(page, parent, x, y + height / 2, item.text, style);
    }
    y += height;
  }
}

function drawTag(
  page: Page,
  parent: Element,
  { state, before, bold }: BlockItem & { kind: "tag" },
  x: number,
  y: number,
  room: number,
  anchor: "start" | "middle",
): void {
  const { fill, edge } = page.colors.tones[state.tone];
  const text = shorten(state.text, tagType, room - 14, true);
  const width = textWidth(text, tagType, true) + 14;
  const size = bold ? 13 : 12;
  const lead = before === "" ? 0 : textWidth(before, size, bold) + 8;
  const left = anchor === "middle" ? x - (lead + width) / 2 : x;
  if (before !== "") {
    const color = bold ? page.colors.ink : page.colors.muted;
    write(page, parent, left, y, before, { size, bold, color, halo: true });
  }
  const group = add(parent, "g", { class: `tag ${state.tone}` });
  add(group, "rect", { x: left + lead, y: y - 9, width, height: 18, rx: 4, fill, stroke: edge, "stroke-width": 1.2 });
  write(page, group, left + lead + width / 2, y, text, { size: tagType, bold: true, anchor: "middle" });
}
