import { Lexer } from "yaml";
import type { Issue } from "../../issue/issue.ts";
import { utf8Length } from "./bytes.ts";
import { isForbidden, isReordering } from "./characters.ts";
import { DepthMeter } from "./depth.ts";
import { type Lines, positionOf } from "./lines.ts";

const LARGEST_BYTES = 256 * 1024;
const DEEPEST = 32;
/** Keys, values, brackets and colons together; a full line of 20 sources and 20 loads has a tenth of it. A reader of more would hold up a page. */
const MOST_PIECES = 30_000;
/** Lines of remarks or of nothing: no pieces, but a reader stops at each. */
const MOST_IDLE_LINES = 10_000;
/** Enough to mend a text; a hostile one would fill the screen for hours. */
const MOST = 50;
const BYTE_ORDER_MARK = 0xfeff;

/**
 * What is wrong with a text before anything builds a tree of it: size, invisible characters, nesting, crowding, and those means of
 * YAML that make a text say something else than it shows (aliases, anchors, tags, directives, several documents).
 * Only the lexer runs here, which works along the text without recursion.
 */
export function guardText(lines: Lines): Issue[] {
  const { text } = lines;
  const bytes = text.length > LARGEST_BYTES ? text.length : utf8Length(text);
  if (bytes > LARGEST_BYTES) {
    return [
      {
        severity: "error",
        code: "too-large",
        path: "",
        message: "The file is too large to be a scenario.",
        received: `${Math.ceil(bytes / 1024)} KB or more`,
        allowed: "up to 256 KB",
        hint: null,
        position: positionOf(lines, 0, 1),
      },
    ];
  }
  const idle = idleLines(lines);
  if (idle.length > 0) return idle;
  const characters = forbiddenCharacters(lines);
  return characters.length > 0 ? characters : forbiddenStructure(lines);
}

function idleLines(lines: Lines): Issue[] {
  let count = 0;
  for (const { index } of lines.text.matchAll(/^[ \t]*(?:#|\r?$)/gm)) {
    count += 1;
    if (count <= MOST_IDLE_LINES) continue;
    const message = "There are more remarks and blank lines in this file than anybody reads.";
    const issue = structural(
      lines,
      "too-many-remarks",
      message,
      index,
      index + 1,
      null,
      "delete those that say nothing",
    );
    return [{ ...issue, allowed: `up to ${MOST_IDLE_LINES} lines of remarks or of nothing` }];
  }
  return [];
}

function forbiddenCharacters(lines: Lines): Issue[] {
  const issues: Issue[] = [];
  const { text } = lines;
  for (let index = 0; index < text.length && issues.length < MOST; index += 1) {
    const code = text.charCodeAt(index);
    // A byte order mark at the very start is what some editors write.
    if (!isForbidden(text, index) || (index === 0 && code === BYTE_ORDER_MARK)) continue;
    const name = `U+${code.toString(16).toUpperCase().padStart(4, "0")}`;
    const message = isReordering(code)
      ? "A character stands here that changes the reading direction: the text may not be what it looks like."
      : "An invisible control character stands here.";
    const problem = isReordering(code) ? "bidi-character" : "control-character";
    issues.push(structural(lines, problem, message, index, 1, name, "delete the character"));
  }
  return issues;
}

/** What YAML could do at a token's first character, and what to do instead. */
const meanings: Readonly<Record<string, readonly [code: string, what: string, instead: string]>> = {
  "*": ["alias", "An alias (*) stands here", "write the value itself, or put it into quotes if it is text"],
  "&": ["anchor", "An anchor (&) stands here", "delete it, or put the value into quotes if it is text"],
  "!": ["tag", "A tag (!) stands here", "delete it: the scenario knows what belongs where"],
  "%": ["directive", "A directive (%) stands here", "delete the line"],
};

function forbiddenStructure(lines: Lines): Issue[] {
  const issues: Issue[] = [];
  const depth = new DepthMeter();
  let offset = 0;
  let lineStart = 0;
  let afterScalarMark = false;
  let content = false;
  let pieces = 0;
  for (const token of new Lexer().lex(lines.text)) {
    const isScalar = afterScalarMark;
    // The lexer's own marks have no length in the text; one of them announces a scalar.
    afterScalarMark = token === "\u001f";
    if (afterScalarMark || token === "\u0002" || token === "\u0018") continue;
    const start = offset;
    offset += token.length;
    if (/^[^\s#]/.test(token)) pieces += 1;
    if (pieces > MOST_PIECES) {
      const message = "There is more in this file than any scenario has.";
      const issue = structural(lines, "too-much", message, start, 1, null, null);
      return [...issues, { ...issue, allowed: `up to ${MOST_PIECES} keys, values and brackets` }];
    }
    const meaning = isScalar ? undefined : meanings[token[0]];
    if (meaning !== undefined) {
      const [code, what, instead] = meaning;
      const message = `${what}; a scenario file says everything in its place.`;
      issues.push(structural(lines, code, message, start, token.length, token, instead));
    }
    if (isScalar && token === "<<") {
      const message = "A merge key (<<) stands here; a scenario file says everything in its place.";
      issues.push(structural(lines, "merge-key", message, start, 2, token, "write the keys themselves"));
    }
    if (token === "---" && !isScalar && content) {
      const message = "A second document begins here; a scenario file holds one.";
      issues.push(structural(lines, "multiple-documents", message, start, 3, token, "put it into a file of its own"));
    }
    if (isScalar || /^[^\s#\ufeff%.-]/.test(token)) content = true;
    if (depth.after(token, start - lineStart, isScalar) > DEEPEST) {
      const message = "Brackets or indentation are nested too deeply.";
      const issue = structural(lines, "too-deep", message, start, 1, null, null);
      return [...issues, { ...issue, allowed: `up to ${DEEPEST} levels` }];
    }
    const lineEnd = token.lastIndexOf("\n");
    if (lineEnd >= 0) lineStart = start + lineEnd + 1;
    if (issues.length >= MOST) break;
  }
  return issues;
}

function structural(
  lines: Lines,
  code: string,
  message: string,
  start: number,
  length: number,
  received: string | null,
  hint: string | null,
): Issue {
  const position = positionOf(lines, start, start + length);
  return { severity: "error", code, path: "", message, received, allowed: null, hint, position };
}
