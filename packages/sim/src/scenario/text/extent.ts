import type { TextNode } from "./read.ts";

/** Whether a map or list stands in brackets. */
export function isFlow(text: string, node: TextNode): boolean {
  return text[node.from] === (node.kind === "map" ? "{" : "[");
}

/** Offset behind the last character of a value that is not a line's end. */
export function endOfNode(text: string, node: TextNode): number {
  let end = node.to;
  if (node.kind !== "nothing" && node.kind !== "text" && !isFlow(text, node)) {
    const last = node.kind === "map" ? node.entries.at(-1) : node.items.at(-1);
    if (last === undefined) return node.to;
    if (!("key" in last)) return endOfNode(text, last);
    return Math.max(last.value.kind === "nothing" ? colonAfter(text, last.keyTo) : 0, endOfNode(text, last.value));
  }
  if (node.kind === "text") while (end > node.from && /\s/.test(text[end - 1])) end -= 1;
  return end;
}

/** Offset behind the colon of a key that ends at `keyTo`; there may be none in braces. */
export function colonAfter(text: string, keyTo: number): number {
  const colon = /^[ \t]*:/.exec(text.slice(keyTo, keyTo + 80));
  return colon === null ? keyTo : keyTo + colon[0].length;
}

/** Offset of the first character of the line; a byte order mark belongs to no line. */
export function lineStart(text: string, at: number): number {
  const start = text.lastIndexOf("\n", at - 1) + 1;
  return start === 0 && text.startsWith("\ufeff") ? 1 : start;
}

/** Offset of the end of the line, before its line break. */
export function lineEnd(text: string, at: number): number {
  const end = text.indexOf("\n", at);
  const stop = end < 0 ? text.length : end;
  return stop > at && text[stop - 1] === "\r" ? stop - 1 : stop;
}

/** Offset of the start of the next line, or the end of the text. */
export function nextLine(text: string, at: number): number {
  const end = text.indexOf("\n", at);
  return end < 0 ? text.length : end + 1;
}

/** Blanks up to the column of an offset; what stands before it in its line (a list's dash) counts as blanks. */
export function indentAt(text: string, at: number): string {
  return text.slice(lineStart(text, at), at).replace(/./g, " ");
}

/** The line break that a text uses. */
export function breakOf(text: string): string {
  return /\r\n/.test(text) ? "\r\n" : "\n";
}
