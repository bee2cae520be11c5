import { type Canvas, write } from "./canvas.ts";
import { add, type Frame } from "./draw.ts";
import { type Block, blocksOf, type PlacedTag } from "./state-tags.ts";
import type { StateRow } from "./types.ts";

/** Where one device's states stand: its bar, and its name beside it or (narrow) above it. */
export interface RowFrame {
  readonly bar: Frame;
  readonly nameX: number;
  readonly nameY: number;
  readonly name: string;
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
    for (const block of blocksOf(canvas.axis, row.spans)) drawBlock(canvas, parent, block, frames[i].bar, hatch);
  }
}

function drawBlock(canvas: Canvas, parent: Element, block: Block, bar: Frame, hatch: string): void {
  const { fill, edge } = canvas.colors.tones[block.tone];
  const place = {
    x: block.left,
    y: bar.top,
    width: Math.max(block.right - block.left, 0.5),
    height: bar.bottom - bar.top,
  };
  const group = add(parent, "g", { class: `state ${block.tone}` });
  add(group, "title", {}, block.tags.join(" / "));
  add(group, "rect", { ...place, fill: block.tone === "off" ? `url(#${hatch})` : fill });
  if (block.dense) drawTeeth(canvas, group, block, bar);
  // A strong foot for what is at work, a stronger one for what is wrong: the tone shows in grey print too.
  const foot = { idle: 0, off: 0, active: 2, alarm: 4 }[block.tone];
  if (foot > 0) add(group, "rect", { ...place, y: bar.bottom - foot, height: foot, fill: edge });
  add(group, "rect", { x: block.left, y: bar.top, width: 0.75, height: bar.bottom - bar.top, fill: edge });
}

/** Upright strokes say "to and fro, too fast to draw". */
function drawTeeth(canvas: Canvas, parent: Element, block: Block, bar: Frame): void {
  for (let x = block.left + 3; x < block.right - 1; x += 3) {
    const place = { x, y: bar.top, width: 0.8, height: bar.bottom - bar.top };
    add(parent, "rect", { ...place, fill: canvas.colors.tones[block.tone].edge, "fill-opacity": 0.5 });
  }
}

export function drawStateTags(
  canvas: Canvas,
  parent: Element,
  rows: readonly StateRow[],
  frames: readonly RowFrame[],
  place: (blocks: readonly Block[]) => readonly PlacedTag[],
) {
  for (const [i, row] of rows.entries()) {
    const { bar, name, nameX, nameY } = frames[i];
    write(canvas, parent, nameX, nameY, name, { color: canvas.colors.ink });
    const middle = (bar.top + bar.bottom) / 2;
    for (const tag of place(blocksOf(canvas.axis, row.spans))) {
      write(canvas, parent, tag.x, middle, tag.text, { halo: true });
    }
  }
}
