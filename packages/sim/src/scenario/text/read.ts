import { isMap, isScalar, isSeq, type Node, type YAMLMap } from "yaml";
import type { Issue } from "../../issue/issue.ts";
import { isForbidden, isReordering } from "./characters.ts";
import { guardText } from "./guard.ts";
import { type Lines, positionOf } from "./lines.ts";
import { syntaxIssues, yamlOf } from "./syntax.ts";

/** A value in a text, with the offsets at which it stands. */
export type TextNode = { readonly from: number; readonly to: number } & (
  | { readonly kind: "text"; readonly value: string }
  | { readonly kind: "map"; readonly entries: readonly TextEntry[] }
  | { readonly kind: "list"; readonly items: readonly TextNode[] }
  | { readonly kind: "nothing" }
);

export interface TextEntry {
  readonly key: string;
  readonly keyFrom: number;
  readonly keyTo: number;
  readonly value: TextNode;
}

/**
 * Reads a text into a tree of strings that knows its offsets; numbers and truth values stay as they were written.
 * The tree is null where the text cannot be read at all.
 */
export function readText(lines: Lines): { tree: TextNode | null; issues: Issue[] } {
  const guarded = guardText(lines);
  if (guarded.length > 0) return { tree: null, issues: guarded };
  const document = yamlOf(lines.text);
  if (document.errors.length > 0) return { tree: null, issues: syntaxIssues(lines, document.errors) };
  const issues: Issue[] = [];
  const tree = toTree(document.contents as Node | null, lines, issues);
  return { tree, issues };
}

function toTree(node: Node | null, lines: Lines, issues: Issue[]): TextNode {
  const [from, to] = node?.range ?? [0, 0];
  if (isMap(node)) return { kind: "map", from, to, entries: entriesOf(node, lines, issues) };
  if (isSeq(node))
    return { kind: "list", from, to, items: node.items.map((item) => toTree(item as Node | null, lines, issues)) };
  if (isScalar(node)) {
    // The line end of a text in lines of its own belongs to how it is written.
    const value = String(node.value).replace(node.type?.startsWith("BLOCK") === true ? /\n$/ : "", "");
    tellUnseen(value, from, to, lines, issues);
    // An empty plain scalar is a key without a value; an empty text in quotes is one that somebody wrote.
    return value === "" && node.type === "PLAIN" ? { kind: "nothing", from, to } : { kind: "text", from, to, value };
  }
  return { kind: "nothing", from, to };
}

/** What the guard refuses where it stands as it is can be spelled out in quotes, too: `"\\u202e"`. */
function tellUnseen(value: string, from: number, to: number, lines: Lines, issues: Issue[]): void {
  let index = 0;
  while (index < value.length && !isForbidden(value, index)) index += 1;
  if (index === value.length) return;
  const code = value.charCodeAt(index);
  const turns = isReordering(code);
  const message = turns
    ? "A character is spelled out here that changes the reading direction: the text would not be what it looks like."
    : "An invisible control character is spelled out here.";
  const name = `U+${code.toString(16).toUpperCase().padStart(4, "0")}`;
  const hint = "delete the character";
  issues.push({
    ...issueAt(lines, turns ? "bidi-character" : "control-character", message, from, to, hint),
    received: name,
  });
}

function entriesOf(map: YAMLMap, lines: Lines, issues: Issue[]): TextEntry[] {
  const entries: TextEntry[] = [];
  const seen = new Set<string>();
  for (const pair of map.items) {
    const keyNode = pair.key as Node | null;
    const [keyFrom, keyTo] = keyNode?.range ?? [map.range?.[0] ?? 0, map.range?.[0] ?? 0];
    if (!isScalar(keyNode) || String(keyNode.value) === "") {
      issues.push(issueAt(lines, "unreadable-key", "A key must be plain words.", keyFrom, keyTo, null));
      continue;
    }
    const key = String(keyNode.value);
    tellUnseen(key, keyFrom, keyTo, lines, issues);
    if (pair.value === null && joinDecimalComma(entries, key, keyFrom, keyTo, lines)) continue;
    if (seen.has(key)) {
      const message = `The key \`${key}\` stands twice in the same place.`;
      issues.push(issueAt(lines, "duplicate-key", message, keyFrom, keyTo, "delete one of the two"));
      continue;
    }
    seen.add(key);
    const value: TextNode =
      pair.value === null ? { kind: "nothing", from: keyTo, to: keyTo } : toTree(pair.value as Node, lines, issues);
    entries.push({ key, keyFrom, keyTo, value });
  }
  return entries;
}

/**
 * YAML reads `{slew: 13,8 V/s}` as a slew of 13 and a key `8 V/s` without a value. Puts the two together again, so that
 * the value is refused as what it is, a decimal comma.
 */
function joinDecimalComma(entries: TextEntry[], key: string, keyFrom: number, keyTo: number, lines: Lines): boolean {
  const last = entries.at(-1);
  if (last?.value.kind !== "text" || !/^\d/.test(key) || !/^[+-]?\d+$/.test(last.value.value)) return false;
  if (lines.text.slice(last.value.to, keyFrom).trim() !== ",") return false;
  const value: TextNode = { kind: "text", from: last.value.from, to: keyTo, value: `${last.value.value},${key}` };
  entries[entries.length - 1] = { ...last, value };
  return true;
}

function issueAt(lines: Lines, code: string, message: string, from: number, to: number, hint: string | null): Issue {
  const position = positionOf(lines, from, to);
  return { severity: "error", code, path: "", message, received: null, allowed: null, hint, position };
}

/** The node at a path; null where nothing stands there. */
export function nodeAt(tree: TextNode, path: readonly (string | number)[]): TextNode | null {
  let node: TextNode | null = tree;
  for (const step of path) {
    if (node?.kind === "map") node = node.entries.find((entry) => entry.key === step)?.value ?? null;
    else if (node?.kind === "list" && typeof step === "number") node = node.items[step] ?? null;
    else return null;
  }
  return node;
}

/** The tree as plain data; maps have no prototype, so that a key such as `constructor` is only a key. */
export function plainOf(node: TextNode): unknown {
  if (node.kind === "text") return node.value;
  if (node.kind === "list") return node.items.map(plainOf);
  if (node.kind === "nothing") return null;
  const map: Record<string, unknown> = Object.create(null);
  for (const { key, value } of node.entries) {
    Object.defineProperty(map, key, { value: plainOf(value), enumerable: true, configurable: true, writable: true });
  }
  return map;
}
