import { endOfNode, indentAt, isFlow, lineStart, nextLine } from "./extent.ts";
import type { NewValue } from "./put.ts";
import { plainOf, type TextNode } from "./read.ts";
import { itemPieces } from "./take-out.ts";
import { inline, sameValue } from "./written.ts";

/**
 * A list in lines put in the place of itself: entries that stay the same keep their own lines and the remarks above and behind them, wherever
 * they come to stand; only new ones are written. Nothing where no entry stays.
 */
export function* rearranged(text: string, node: TextNode, { text: put, tree }: NewValue): Generator<string> {
  if (node.kind !== "list" || tree.kind !== "list" || isFlow(text, node) || node.items.length === 0) return;
  const pieces = itemPieces(text, node.items);
  const starts = pieces.map(({ from }) => lineStart(text, from));
  if (pieces.some(({ from }, k) => text.slice(starts[k], from).trim() !== "")) return;
  const ends = pieces.map(({ to }) => nextLine(text, to));
  const leads = starts.map((start, k) => leadFrom(text, start, k === 0 ? 0 : ends[k - 1]));
  // A remark above the first entry alone heads the list; where others have theirs, it is that entry's.
  if (leads.every((lead, k) => k === 0 || lead === starts[k])) leads[0] = starts[0];
  const left = node.items.map((item, k) => ({ plain: plainOf(item), lines: text.slice(leads[k], ends[k]) }));
  const total = left.length;
  const line = text.includes("\r\n") ? "\r\n" : "\n";
  const column = indentAt(text, pieces[0].from);
  const rows = tree.items.map((item) => {
    const at = left.findIndex(({ plain }) => sameValue(plain, plainOf(item)));
    if (at >= 0) return left.splice(at, 1)[0].lines;
    const own = put.slice(item.from, endOfNode(put, item));
    return `${column}- ${own.includes("\n") ? inline(item) : own}`;
  });
  if (left.length === total) return;
  const whole = rows.map((row) => (row.endsWith("\n") ? row : row + line)).join("");
  const end = ends[ends.length - 1];
  const open = !text.slice(0, end).endsWith("\n");
  yield text.slice(0, leads[0]) + (open ? whole.slice(0, -line.length) : whole) + text.slice(end);
}

/** Where the remarks begin that stand right above a line. */
function leadFrom(text: string, start: number, least: number): number {
  let from = start;
  while (from > least) {
    const before = lineStart(text, from - 1);
    if (before < least || !text.slice(before, from).trim().startsWith("#")) break;
    from = before;
  }
  return from;
}
