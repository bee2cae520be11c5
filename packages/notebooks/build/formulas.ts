// Formulas between $…$ (in a line) and $$…$$ (on their own) become MathML while the page is built: no font, no script, no wait.
import katex from "katex";
import type MarkdownIt from "markdown-it";

// Throws with the renderer's own message where it is no formula.
function renderFormula(tex: string, displayMode: boolean): string {
  return katex.renderToString(tex, { output: "mathml", displayMode, throwOnError: true, strict: "error" });
}

/**
 * Teaches a markdown renderer formulas. A dollar sign opens one only before a character that is not a space, and closes it only after
 * such a character and not before a digit: "from $5 to $10" stays prose. `\$` is always prose.
 * `look` sees every formula first.
 */
export function formulas(markdown: MarkdownIt, look: (tex: string) => void): void {
  markdown.inline.ruler.before("escape", "formula", (state, silent) => {
    if (state.src[state.pos] !== "$") return false;
    const fence = state.src.startsWith("$$", state.pos) ? "$$" : "$";
    const begin = state.pos + fence.length;
    const end = closing(state.src, begin, state.posMax, fence);
    if (end < 0) return false;
    if (!silent) {
      const token = state.push("formula", "", 0);
      token.content = state.src.slice(begin, end);
      token.meta = { displayMode: fence === "$$" };
    }
    state.pos = end + fence.length;
    return true;
  });
  markdown.renderer.rules.formula = (tokens, index) => {
    const token = tokens[index]!;
    look(token.content);
    return renderFormula(token.content.trim(), (token.meta as { displayMode: boolean }).displayMode);
  };
}

function closing(text: string, begin: number, limit: number, fence: string): number {
  if (begin >= limit || (fence === "$" && /\s/.test(text[begin]!))) return -1;
  for (let at = text.indexOf(fence, begin); at >= 0 && at + fence.length <= limit; at = text.indexOf(fence, at + 1)) {
    if (text[at - 1] === "\\") continue;
    if (at === begin) return -1;
    if (fence === "$$") return at;
    if (!/\s/.test(text[at - 1]!) && !/\d/.test(text[at + 1] ?? "")) return at;
  }
  return -1;
}
