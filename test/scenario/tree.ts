import { linesOf } from "../../packages/sim/src/scenario/text/lines.ts";
import { readText, type TextNode } from "../../packages/sim/src/scenario/text/read.ts";

/** The tree of a text that can be read. */
export function treeOf(text: string): TextNode {
  const { tree, issues } = readText(linesOf(text, "x"));
  if (tree === null || issues.length > 0) throw new Error(`cannot be read: ${JSON.stringify(issues)}\n${text}`);
  return tree;
}
