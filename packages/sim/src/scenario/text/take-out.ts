import type { Path } from "../keys.ts";
import { colonAfter, endOfNode, isFlow, lineEnd, lineStart, nextLine } from "./extent.ts";
import { entryAt } from "./put.ts";
import { nodeAt, type TextNode } from "./read.ts";

/** Ways of taking a key with its value, or an entry of a list, out of a text; `path` leads to something that stands there. */
export function* removals(text: string, tree: TextNode, path: Path): Generator<string> {
  // Only these hold anything.
  const holder = nodeAt(tree, path.slice(0, -1)) as Extract<TextNode, { readonly kind: "map" | "list" }>;
  const step = path[path.length - 1];
  const pieces =
    holder.kind === "map" ? holder.entries.map((entry) => entryPiece(text, entry)) : itemPieces(text, holder.items);
  const index = holder.kind === "map" ? holder.entries.findIndex(({ key }) => key === step) : Number(step);
  const piece = pieces[index];
  if (isFlow(text, holder)) {
    yield* fromFlow(text, pieces, index);
    return;
  }
  if (pieces.length === 1) {
    yield emptied(text, tree, path.slice(0, -1), holder);
    return;
  }
  const start = lineStart(text, piece.from);
  if (text.slice(start, piece.from).trim() === "") {
    yield text.slice(0, start) + text.slice(nextLine(text, piece.to));
    // The last line of a text that does not end its lines.
    yield text.slice(0, Math.max(0, start - (text[start - 2] === "\r" ? 2 : 1))) + text.slice(lineEnd(text, piece.to));
    return;
  }
  // It stands behind a list's dash, so it is the first: the next key takes its place there, unless a remark stands between them.
  const next = pieces[index + 1];
  if (text.slice(nextLine(text, piece.to), next.from).trim() === "")
    yield text.slice(0, piece.from) + text.slice(next.from);
  yield text.slice(0, piece.from).trimEnd() + text.slice(lineEnd(text, piece.to));
}

interface Piece {
  readonly from: number;
  readonly to: number;
}

function entryPiece(text: string, { keyFrom, keyTo, value }: NonNullable<ReturnType<typeof entryAt>>): Piece {
  return { from: keyFrom, to: value.kind === "nothing" ? colonAfter(text, keyTo) : endOfNode(text, value) };
}

/** The entries of a list with their dashes. */
export function itemPieces(text: string, items: readonly TextNode[]): Piece[] {
  return items.map((item) => {
    const to = endOfNode(text, item);
    return { from: dashBefore(text, item.from) ?? item.from, to };
  });
}

/** The dash that begins an entry of a list; between the two stand blanks, line ends and remarks only. */
function dashBefore(text: string, at: number): number | null {
  let from = lineStart(text, at);
  const own = text.slice(from, at).trimEnd();
  if (own !== "") return own.endsWith("-") ? from + own.length - 1 : null;
  // A byte order mark belongs to no line.
  while (from > 1) {
    const to = from - 1;
    from = lineStart(text, to);
    const line = text.slice(from, to);
    if (/^\s*(?:#|$)/.test(line)) continue;
    const dash = /-\s*(?:#|$)/.exec(line);
    return dash === null ? null : from + dash.index;
  }
  return null;
}

function* fromFlow(text: string, pieces: readonly Piece[], index: number): Generator<string> {
  const { from, to } = pieces[index];
  const before = pieces[index - 1];
  const after = pieces[index + 1];
  if (before !== undefined && !text.slice(before.to, from).includes("#"))
    yield text.slice(0, before.to) + text.slice(to);
  if (after !== undefined && !text.slice(to, after.from).includes("#"))
    yield text.slice(0, from) + text.slice(after.from);
  const comma = /^\s*,/.exec(text.slice(to));
  yield text.slice(0, from) + text.slice(to + (comma?.[0].length ?? 0));
}

/** A block without entries cannot be written but in brackets; the top of a text may be empty. */
function emptied(text: string, tree: TextNode, path: Path, holder: TextNode): string {
  const from = lineStart(text, holder.from);
  const end = endOfNode(text, holder);
  if (path.length === 0) return text.slice(0, from) + text.slice(nextLine(text, end));
  const brackets = holder.kind === "map" ? "{}" : "[]";
  const entry = entryAt(tree, path);
  if (entry === null || from < entry.keyTo) return text.slice(0, holder.from) + brackets + text.slice(end);
  const colon = colonAfter(text, entry.keyTo);
  return `${text.slice(0, colon)} ${brackets}${text.slice(colon, lineEnd(text, colon))}${text.slice(lineEnd(text, end))}`;
}
