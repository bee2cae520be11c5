import { linesOf } from "./lines.ts";
import { readText, type TextNode } from "./read.ts";
import type { TextMemory } from "./text-memory.ts";

/** The tree of a text; null where it cannot be read without a complaint. */
export function treeOf(text: string, texts?: TextMemory): TextNode | null {
  const lines = linesOf(text, "text");
  const { tree, issues } = texts === undefined ? readText(lines) : texts.read(lines);
  return issues.length === 0 ? tree : null;
}

/**
 * A text as it may stand for one value in a file, on one line and inside braces too: plain where the format reads it back as it is, in
 * quotes where it would mean something else.
 *
 * @param words any text without control characters
 * @example asValue("hut: upper station") // '"hut: upper station"'
 */
export function asValue(words: string): string {
  const plain = treeOf(`{k: ${words}}`);
  const value = plain?.kind === "map" && plain.entries.length === 1 ? plain.entries[0].value : null;
  const same = value?.kind === "text" && value.value === words && !/[\n"']/.test(words);
  return same ? words : `"${words.replace(/["\\]/g, "\\$&").replace(/\n/g, "\\n").replace(/\t/g, "\\t")}"`;
}

/** A tree on one line. */
export function inline(node: TextNode): string {
  if (node.kind === "text") return asValue(node.value);
  if (node.kind === "list") return `[${node.items.map(inline).join(", ")}]`;
  if (node.kind === "nothing") return "";
  return `{${node.entries.map(({ key, value }) => `${asValue(key)}: ${inline(value)}`.trimEnd()).join(", ")}}`;
}

/** Whether two values read from texts are the same; the order of keys does not matter. */
export function sameValue(a: unknown, b: unknown): boolean {
  if (Array.isArray(a) && Array.isArray(b))
    return a.length === b.length && a.every((value, index) => sameValue(value, b[index]));
  if (!isPlainMap(a) || !isPlainMap(b)) return a === b;
  const [left, right] = [new Map(Object.entries(a)), new Map(Object.entries(b))];
  return (
    left.size === right.size && [...left].every(([key, value]) => right.has(key) && sameValue(value, right.get(key)))
  );
}

export function isPlainMap(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
