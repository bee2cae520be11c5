import { InvalidInput } from "../../issue/issue.ts";
import { inPresentForm } from "./form.ts";
import { linesOf } from "./lines.ts";
import { nodeAt, readText } from "./read.ts";
import { cannotChange } from "./refusal.ts";

/**
 * Changes one value of a scenario text and nothing else: comments, spacing and every other line stay byte for byte.
 *
 * @param before a scenario file; one of an older form is brought into the present one first
 * @param path keys and indices, for instance `["sources", 0, "set voltage"]`
 * @param value the new value as it is to stand there, with its unit
 * @returns the new text
 * @throws InvalidInput when the text cannot be read, nothing stands at that path, or the value cannot stand there
 *
 * @example setValue("ambient: 20 °C # hut\n", ["ambient"], "35 °C") // "ambient: 35 °C # hut\n"
 */
export function setValue(before: string, path: readonly (string | number)[], value: string): string {
  const text = inPresentForm(before);
  const { tree, issues } = readText(linesOf(text, "text"));
  if (tree === null || issues.length > 0) throw new InvalidInput(issues);
  const node = nodeAt(tree, path);
  if (node === null) throw cannotChange(path, "Nothing stands at this path, so there is nothing to change.");
  if (node.kind === "map" || node.kind === "list")
    throw cannotChange(path, "A whole map or list stands here; change the values inside it.");
  if (value.trim() === "") throw cannotChange(path, "The new value is empty.");
  const gap = node.kind === "nothing" ? gapAfter(text.slice(0, node.from)) : "";
  // Plain where the format reads it back as it is, in quotes where it would mean something else.
  for (const written of [value, `"${value.replace(/["\\]/g, "\\$&")}"`]) {
    const changed = `${text.slice(0, node.from)}${gap}${written}${text.slice(node.to)}`;
    if (readsBack(changed, path, value)) return changed;
  }
  throw cannotChange(path, "This value cannot stand on one line of the file.");
}

/** An empty value ends right behind the colon, which needs a blank; in braces a key may have no colon at all. */
function gapAfter(before: string): string {
  if (!before.trimEnd().endsWith(":")) return ": ";
  return /\s$/.test(before) ? "" : " ";
}

function readsBack(text: string, path: readonly (string | number)[], value: string): boolean {
  const { tree, issues } = readText(linesOf(text, "text"));
  if (tree === null || issues.length > 0) return false;
  const node = nodeAt(tree, path);
  return node?.kind === "text" && node.value === value;
}
