import { InvalidInput, type Issue } from "../../issue/issue.ts";
import type { Path } from "../keys.ts";
import { mainKey } from "../schema/short-form.ts";
import { withChange } from "./expected.ts";
import { inPresentForm } from "./form.ts";
import { linesOf } from "./lines.ts";
import { insertions, type NewValue, replacements } from "./put.ts";
import { nodeAt, plainOf, readText, type TextNode } from "./read.ts";
import { rearranged } from "./rearrange.ts";
import { cannotChange } from "./refusal.ts";
import { removals } from "./take-out.ts";
import { TextMemory } from "./text-memory.ts";
import { asValue, inline, sameValue, treeOf } from "./written.ts";

/** A path with what is to stand there as text of a file; null takes it out. */
export type TextChange = readonly [path: Path, value: string | null];

/**
 * Changes one place of a scenario text and leaves every other line and remark byte for byte: replaces a value (a single one, a map or a
 * list, whose entries that stay keep their lines), adds a key that is not there yet (with the keys above it, if need be) or an entry at the end of a list, or takes one out.
 * The new text is read back: it says what the old one said but for this change. A short form gives way where a key below it is wanted:
 * `fault: lost feedback` becomes `fault: {kind: lost feedback, slew: 1 V/s}`.
 *
 * @param text a scenario file
 * @param path keys and indices, for instance `["sources", 0, "set voltage"]`
 * @param value as it is to stand in the file: `15 V`, `{part: SCR 55 A, trip voltage: 15 V}`, or several lines of a block; words of a person go
 *   through `asValue` first. Null takes the key with its lines out; taking out what is not there changes nothing
 * @returns the new text
 * @throws InvalidInput when the text or the value cannot be read, or nothing can stand at that path
 *
 * @example changeText("ambient: 20 °C # hut\n", ["run for"], "1 s") // "ambient: 20 °C # hut\nrun for: 1 s\n"
 */
export function changeText(text: string, path: Path, value: string | null): string {
  return changeTexts(text, [[path, value]]);
}

/**
 * Several changes, one after the other, each as `changeText` makes it; the text is read once for all of them.
 *
 * @param before a scenario file; one of an older form is brought into the present one first
 * @param leftOut called for each change that cannot be made, which then counts for nothing; without it the first one throws
 * @param texts of earlier readings, where one file is changed again and again
 * @returns the new text
 * @throws InvalidInput when the text cannot be read, or, without `leftOut`, a change cannot be made
 * @example changeTexts(text, [[["crowbar"], null], [["clamp"], "TVS 5 kW, 15 V"]])
 */
export function changeTexts(
  before: string,
  changes: readonly TextChange[],
  leftOut?: (change: TextChange, issues: readonly Issue[]) => void,
  texts = new TextMemory(),
): string {
  const text = inPresentForm(before);
  const { tree, issues } = texts.read(linesOf(text, "text"));
  if (tree === null || issues.length > 0) throw new InvalidInput(issues);
  let now: Read = { text, tree, texts };
  for (const change of changes) {
    try {
      now = changed(now, ...change);
    } catch (error) {
      if (leftOut === undefined || !(error instanceof InvalidInput)) throw error;
      leftOut(change, error.issues);
    }
  }
  return now.text;
}

interface Read {
  readonly text: string;
  readonly tree: TextNode;
  readonly texts: TextMemory;
}

function changed(old: Read, path: Path, value: string | null): Read {
  if (path.length === 0) throw cannotChange(path, "The whole file is not one value.");
  if (value === null) return without(old, path);
  const put = readValue(path, value);
  const was = nodeAt(old.tree, path);
  if (was !== null) return first(old, path, plainOf(put.tree), ways(old, path, was, put));
  const { above, rest } = nearest(old.tree, path);
  const node = nodeAt(old.tree, above) ?? old.tree;
  const [step, ...below] = rest;
  if (below.some((key) => typeof key === "number"))
    throw cannotChange(path, "An entry of a list that is not there cannot be changed.");
  if (node.kind === "text") return first(old, path, plainOf(put.tree), expanded(old, path, above, node.value, put));
  if (node.kind === "nothing" && above.length > 0) {
    const only = nested(path, rest, put);
    return first(old, path, plainOf(put.tree), replacements(old.text, old.tree, above, only));
  }
  if ((node.kind === "list") !== (typeof step === "number"))
    throw cannotChange(path, node.kind === "list" ? "A list has no keys." : "A map has no numbered entries.");
  if (node.kind === "list" && step !== node.items.length)
    throw cannotChange(path, "A new entry can only stand at the end of a list.", String(step));
  return first(old, path, plainOf(put.tree), insertions(old.text, node, step, nested(path, below, put)));
}

function without(old: Read, path: Path): Read {
  if (nodeAt(old.tree, path) !== null) return first(old, path, undefined, removals(old.text, old.tree, path));
  const above = nodeAt(old.tree, path.slice(0, -1));
  if (above?.kind !== "text" || mainKey(path.slice(0, -1), above.value) !== path[path.length - 1]) return old;
  throw cannotChange(path, "A single value says this; take it out as a whole.", above.value);
}

function* ways({ text, tree }: Read, path: Path, was: TextNode, put: NewValue): Generator<string> {
  yield* rearranged(text, was, put);
  yield* replacements(text, tree, path, put);
}

/** The longest part of a path where something stands, and the rest. */
function nearest(tree: TextNode, path: Path): { above: Path; rest: Path } {
  let length = path.length - 1;
  while (length > 0 && nodeAt(tree, path.slice(0, length)) === null) length -= 1;
  return { above: path.slice(0, length), rest: path.slice(length) };
}

function readValue(path: Path, value: string): NewValue {
  if (value.length > 256 * 1024) throw cannotChange(path, "The new value is too long.");
  const { tree, issues } = readText(linesOf(value, "new value"));
  if (tree === null || issues.length > 0) throw new InvalidInput(issues);
  if (tree.kind === "nothing") throw cannotChange(path, "The new value is empty.");
  return { text: value, tree };
}

/** A value below keys that are not there yet, as a map on one line. */
function nested(path: Path, keys: Path, value: NewValue): NewValue {
  let { text, tree } = value;
  for (const key of [...keys].reverse()) {
    const name = asValue(String(key));
    const plain = plainOf(tree);
    const written = [`{${name}: ${text}}`, `{${name}: ${inline(tree)}}`].flatMap((line) => {
      const found = treeOf(line);
      const same =
        found?.kind === "map" && found.entries.length === 1 && sameValue(plainOf(found.entries[0].value), plain);
      return same ? [{ text: line, tree: found }] : [];
    });
    if (written.length === 0) throw cannotChange(path, "This value cannot stand there.");
    [{ text, tree }] = written;
  }
  return { text, tree };
}

/** A short form made a map with its main key; a change of the main key itself leaves it short. */
function* expanded(old: Read, path: Path, above: Path, short: string, value: NewValue): Generator<string> {
  const main = mainKey(above, short);
  if (main === null) {
    const message = "A single value stands above this place; it has no longer form that says the same.";
    throw cannotChange(path, message, short);
  }
  const rest = path.slice(above.length);
  const [first] = rest;
  if (first === main && rest.length === 1 && value.tree.kind === "text") {
    yield* replacements(old.text, old.tree, above, value);
    return;
  }
  const put = nested(path, rest, value);
  const line = `{${asValue(main)}: ${asValue(short)}, ${put.text.slice(1)}`;
  const tree = treeOf(line);
  if (tree !== null) yield* replacements(old.text, old.tree, above, { text: line, tree });
}

/** The first of several texts that says what the old one said but for the change. */
function first(old: Read, path: Path, value: unknown, candidates: Iterable<string>): Read {
  const expected = withChange(plainOf(old.tree), path, value);
  for (const text of candidates) {
    const tree = treeOf(text, old.texts);
    // The top of a text without any key reads as nothing.
    if (tree !== null && sameValue(plainOf(tree) ?? {}, expected)) return { text, tree, texts: old.texts };
  }
  throw cannotChange(path, "This change cannot be written into this file without touching anything else.");
}
