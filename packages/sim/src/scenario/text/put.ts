import type { Path } from "../keys.ts";
import { breakOf, colonAfter, endOfNode, indentAt, isFlow, lineEnd, lineStart, nextLine } from "./extent.ts";
import { nodeAt, type TextNode } from "./read.ts";
import { asValue, inline } from "./written.ts";

/** A value to be written, and what it reads as. */
export interface NewValue {
  readonly text: string;
  readonly tree: TextNode;
}

/** What stands before and after a stretch that is to be taken out and written anew. */
interface Splice {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

const cut = (text: string, { from, to, text: put }: Splice): string => text.slice(0, from) + put + text.slice(to);

/** Ways of writing a value in place of what stands at a path, the plainest first; whether one reads back right is for the caller to see. */
export function* replacements(text: string, tree: TextNode, path: Path, value: NewValue): Generator<string> {
  const node = nodeAt(tree, path);
  if (node === null) return;
  const entry = entryAt(tree, path);
  if (entry === null) {
    const column = indentAt(text, node.from);
    for (const put of forms(value, column, breakOf(text)))
      yield cut(text, { from: node.from, to: endOfNode(text, node), text: put });
    return;
  }
  const colon = colonAfter(text, entry.keyTo);
  const missing = colon === entry.keyTo ? ":" : "";
  const column = indentAt(text, entry.keyFrom);
  const end = endOfNode(text, node);
  const onNextLine = node.kind !== "nothing" && lineStart(text, node.from) > entry.keyTo && !isFlow(text, node);
  for (const put of forms(value, `${column}  `, breakOf(text))) {
    const block = /^\r?\n/.test(put);
    const gap = block ? "" : " ";
    if (onNextLine) {
      // The remark behind the key stays; the lines of the old block go.
      const head = lineEnd(text, colon);
      const rest = text.slice(colon, head);
      const remark = /#/.test(rest) ? ` ${rest.trim()}` : "";
      const written = block ? `${remark}${put}` : `${gap}${put}${remark}`;
      yield cut(text, { from: colon, to: lineEnd(text, end), text: missing + written });
    } else if (node.kind === "nothing") {
      yield cut(text, { from: colon, to: colon, text: `${missing}${gap}${put}` });
    } else if (block) {
      const tail = text.slice(end, lineEnd(text, end));
      const remark = tail.trim() === "" ? "" : ` ${tail.trim()}`;
      yield cut(text, { from: colon, to: lineEnd(text, end), text: `${remark}${put}` });
    } else {
      yield cut(text, { from: node.from, to: end, text: put });
    }
  }
}

/** Ways of writing a new key at the end of a map, or a new entry at the end of a list. */
export function* insertions(text: string, holder: TextNode, step: string | number, value: NewValue): Generator<string> {
  const key = typeof step === "string" ? `${asValue(step)}:` : "-";
  const line = breakOf(text);
  const isEmpty =
    holder.kind === "map" ? holder.entries.length === 0 : holder.kind !== "list" || holder.items.length === 0;
  if (holder.kind === "nothing") {
    // The top of a text without any key.
    const gap = text === "" || text.endsWith("\n") ? "" : line;
    for (const put of forms(value, "  ", line)) yield `${text}${gap}${key}${spaced(put)}${line}`;
    return;
  }
  if (isFlow(text, holder)) {
    const last = isEmpty ? holder.from + 1 : lastOf(text, holder);
    const name = typeof step === "string" ? `${key} ` : "";
    for (const put of forms(value, "", line))
      yield cut(text, { from: last, to: last, text: `${isEmpty ? "" : ", "}${name}${put}` });
    return;
  }
  const dash = holder.kind === "list" ? text.lastIndexOf("-", holder.items[0].from - 1) : -1;
  const column = indentAt(text, dash >= 0 ? dash : holder.from);
  const end = endOfNode(text, holder);
  const next = nextLine(text, end);
  const open = next === text.length && !text.endsWith("\n");
  for (const put of forms(value, `${column}  `, line, dash >= 0)) {
    const written = `${column}${key}${spaced(put)}`;
    yield cut(text, { from: next, to: next, text: open ? `${line}${written}` : `${written}${line}` });
  }
}

const spaced = (put: string): string => (/^\r?\n/.test(put) ? put : ` ${put}`);

function lastOf(text: string, holder: TextNode): number {
  if (holder.kind === "list") return endOfNode(text, holder.items[holder.items.length - 1]);
  if (holder.kind !== "map") return holder.to;
  const last = holder.entries[holder.entries.length - 1];
  return last.value.kind === "nothing" ? colonAfter(text, last.keyTo) : endOfNode(text, last.value);
}

/** The key and value of a map at a path; null at the top and in lists. */
export function entryAt(tree: TextNode, path: Path) {
  const holder = nodeAt(tree, path.slice(0, -1));
  if (path.length === 0 || holder?.kind !== "map") return null;
  return holder.entries.find(({ key }) => key === path[path.length - 1]) ?? null;
}

/** How a value may be written: as it came, as a block below its key (then it begins with a line break), or on one line. */
function* forms({ text, tree }: NewValue, indent: string, line: string, behindDash = false): Generator<string> {
  const rows = dedented(text);
  if (rows.length === 1) yield rows[0];
  else {
    const deeper = rows.map((row) => (row.trim() === "" ? "" : indent + row));
    const first = behindDash || /^[|>[{"']/.test(rows[0]);
    if (first) yield [rows[0], ...deeper.slice(1)].join(line);
    else yield line + deeper.join(line);
    if (!first && tree.kind !== "text") yield [rows[0], ...deeper.slice(1)].join(line);
  }
  yield inline(tree);
}

/** The lines of a value without the blanks that all of them begin with. */
function dedented(text: string): string[] {
  const rows = text
    .replace(/^(?:[ \t]*\r?\n)+/, "")
    .trimEnd()
    .split(/\r?\n/);
  const filled = rows.filter((row) => row.trim() !== "");
  const common = Math.min(...filled.map((row) => row.length - row.trimStart().length));
  return rows.map((row) => row.slice(common));
}
