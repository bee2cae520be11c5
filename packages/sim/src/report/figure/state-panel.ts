import { type Canvas, write } from "./canvas.ts";
import { add, type Frame, rounded } from "./draw.ts";
import { type Block, blocksOf, type PlacedTag } from "./state-tags.ts";
import type { StateRow } from "./types.ts";

/** Where one device's states stand: its bar, and its name beside it or (narrow) above it. */
export interface RowFrame {
  readonly bar: Frame;
  readonly nameX: number;
  readonly nameY: number;
  readonly name: string;
  /** What the bar does not say, and where it stands. */
  readonly note: readonly { readonly text: string; readonly y: number }[];
  readonly noteX: number;
  /** Whether it ends there instead of beginning there. */
  readonly noteEnds: boolean;
}

/** The tones; the tags come later, above the event rules. */
export function drawStateBars(canvas: Canvas, parent: Element, rows: readonly StateRow[], frames: readonly RowFrame[]) {
  const hatch = `${canvas.id}-off`;
  const { edge, fill } = canvas.colors.tones.off;
  const size = { id: hatch, width: 5, height: 5, patternUnits: "userSpaceOnUse", patternTransform: "rotate(-45)" };
  const pattern = add(parent, "pattern", size);
  add(pattern, "rect", { width: 5, height: 5, fill });
  add(pattern, "rect", { width: 0.8, height: 5, fill: edge, "fill-opacity": 0.45 });
  for (const [i, row] of rows.entries()) {
    const blocks = blocksOf(canvas.axis, row.spans);
    const slight = blocks.filter((block) => block.right - block.left < ownFrom);
    // What nobody could point at needs no element of its own: hundreds of trips are a few paths.
    for (const tone of new Set(slight.map((block) => block.tone))) {
      const same = slight.filter((block) => block.tone === tone);
      drawBlocks(canvas, parent, same, frames[i].bar, hatch);
    }
    for (const block of blocks) {
      if (block.right - block.left >= ownFrom) drawBlocks(canvas, parent, [block], frames[i].bar, hatch);
    }
  }
}

/** A block from this width on is an element of its own, with its state as its title; CSS pixels. */
const ownFrom = 16;

/** Blocks of one tone. */
function drawBlocks(canvas: Canvas, parent: Element, blocks: readonly Block[], bar: Frame, hatch: string): void {
  const { tone } = blocks[0];
  const { fill, edge } = canvas.colors.tones[tone];
  const group = add(parent, "g", { class: `state ${tone}` });
  const tags = new Set(blocks.flatMap((block) => block.tags));
  add(group, "title", {}, [...tags].join(" / "));
  const area = (top: number) =>
    blocks.map(({ left, right }) => box(left, Math.max(right - left, 0.5), top, bar.bottom)).join("");
  add(group, "path", { d: area(bar.top), fill: tone === "off" ? `url(#${hatch})` : fill });
  const teeth = blocks.filter(({ dense }) => dense).flatMap(teethOf);
  if (teeth.length > 0) {
    const d = teeth.map((x) => box(x, 0.8, bar.top, bar.bottom)).join("");
    add(group, "path", { d, fill: edge, "fill-opacity": 0.5 });
  }
  // A strong foot for what is at work, a stronger one for what is wrong: the tone shows in grey print too.
  const foot = { idle: 0, off: 0, active: 2, alarm: 4 }[tone];
  if (foot > 0) add(group, "path", { d: area(bar.bottom - foot), fill: edge });
  add(group, "path", { d: blocks.map(({ left }) => box(left, 0.75, bar.top, bar.bottom)).join(""), fill: edge });
}

function box(left: number, width: number, top: number, bottom: number): string {
  return `M${rounded(left)},${rounded(top)}h${rounded(width)}V${rounded(bottom)}h${rounded(-width)}Z`;
}

/** Upright strokes say "to and fro, too fast to draw". */
function teethOf({ left, right }: Block): number[] {
  return Array.from({ length: Math.max(0, Math.ceil((right - 1 - left - 3) / 3)) }, (_, i) => left + 3 + 3 * i);
}

export function drawStateTags(
  canvas: Canvas,
  parent: Element,
  rows: readonly StateRow[],
  frames: readonly RowFrame[],
  place: (blocks: readonly Block[]) => readonly PlacedTag[],
) {
  for (const [i, row] of rows.entries()) {
    const { bar, name, nameX, nameY, note, noteX, noteEnds } = frames[i];
    write(canvas, parent, nameX, nameY, name, { color: canvas.colors.ink });
    const style = { color: canvas.colors.muted, anchor: noteEnds ? "end" : "start" } as const;
    for (const { text, y } of note) write(canvas, parent, noteX, y, text, style);
    const middle = (bar.top + bar.bottom) / 2;
    for (const tag of place(blocksOf(canvas.axis, row.spans))) {
      write(canvas, parent, tag.x, middle, tag.text, { halo: true });
    }
  }
}
