import type { Lines } from "./lines.ts";
import { readText, type TextNode } from "./read.ts";

/** A file with a handful of changes, each read as it is made. */
const MOST = 32;
/** Characters of all texts together: some hundred shipped files, or four of the largest allowed. */
const MOST_CHARACTERS = 1024 * 1024;

/**
 * The trees of the texts read last. A text that is changed step by step is read to check the change, and once more to be run; reading costs more
 * than all that is done with the tree.
 *
 * @example
 * const texts = new TextMemory();
 * parseScenario(changeTexts(text, changes, undefined, texts), "hut.yaml", new FitMemory(texts)); // the changed text is read once
 */
export class TextMemory {
  /** By text, the least recent first. */
  private readonly trees = new Map<string, TextNode>();
  private characters = 0;

  /** `readText`; a text with a complaint is read anew each time, for its places name the file. */
  read(lines: Lines): { tree: TextNode | null; issues: ReturnType<typeof readText>["issues"] } {
    const { text } = lines;
    const known = this.trees.get(text);
    if (known !== undefined) {
      this.trees.delete(text);
      this.trees.set(text, known);
      return { tree: known, issues: [] };
    }
    const found = readText(lines);
    if (found.tree !== null && found.issues.length === 0) this.keep(text, found.tree);
    return found;
  }

  private keep(text: string, tree: TextNode): void {
    this.trees.set(text, tree);
    this.characters += text.length;
    for (const oldest of this.trees.keys()) {
      if (this.trees.size <= MOST && this.characters <= MOST_CHARACTERS) return;
      this.trees.delete(oldest);
      this.characters -= oldest.length;
    }
  }
}
