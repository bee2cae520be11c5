import { Lexer } from "yaml";
import type { Issue } from "../../issue/issue.ts";
import { DepthMeter } from "./depth.ts";
import { type Lines, positionOf } from "./lines.ts";

export const LARGEST_BYTES = 256 * 1024;
export const DEEPEST = 32;
/** Enough to mend a text; a hostile one would fill the screen for hours. */
const MOST = 50;

// Control characters but for tab, line feed and carriage return, and the marks that reorder text on a screen.
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for.
const FORBIDDEN =
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u061c\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff\ufff9-\ufffb]/g;
const BIDI = /[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/;

/**
 * What is wrong with a text before anything builds a tree of it: size, invisible characters, nesting, and those means of
 * YAML that make a text say something else than it shows (aliases, anchors, tags, directives, several documents).
 * Only the lexer runs here, which works along the text without recursion.
 */
export function guardText(lines: Lines): Issue[] {
  const { text } = lines;
  const bytes = text.length > LARGEST_BYTES ? text.length : new TextEncoder().encode(text).length;
  if (bytes > LARGEST_BYTES) {
    const at = positionOf(lines, 0, 1);
    return [
      {
        severity: "error",
        code: "too-large",
        path: "",
        message: "The file is too large to be a scenario.",
        received: `${Math.ceil(bytes / 1024)} KB or more`,
        allowed: "up to 256 KB",
        hint: null,
        position: { ...at, excerpt: at.excerpt.slice(0, 80) },
      },
    ];
  }
  const characters = forbiddenCharacters(lines);
  return characters.length > 0 ? characters : forbiddenStructure(lines);
}

function forbiddenCharacters(lines: Lines): Issue[] {
  const issues: Issue[] = [];
  for (const match of lines.text.matchAll(FORBIDDEN)) {
    // A byte order mark at the very start is what some editors write.
    if (match.index === 0 && match[0] === "\ufeff") continue;
    const name = `U+${match[0].charCodeAt(0).toString(16).toUpperCase().padStart(4, "0")}`;
    const bidi = BIDI.test(match[0]);
    const message = bidi
      ? "A character stands here that changes the reading direction: the text may not be what it looks like."
      : "An invisible control character stands here.";
    const code = bidi ? "bidi-character" : "control-character";
    issues.push(structural(lines, code, message, match.index, 1, name, "delete the character"));
    if (issues.length >= MOST) break;
  }
  return issues;
}

const meanings: Readonly<Record<string, readonly [code: string, what: string]>> = {
  "*": ["alias", "An alias (*) stands here"],
  "&": ["anchor", "An anchor (&) stands here"],
  "!": ["tag", "A tag (!) stands here"],
  "%": ["directive", "A directive (%) stands here"],
};

function forbiddenStructure(lines: Lines): Issue[] {
  const issues: Issue[] = [];
  const depth = new DepthMeter();
  let offset = 0;
  let lineStart = 0;
  let afterScalarMark = false;
  let content = false;
  for (const token of new Lexer().lex(lines.text)) {
    const isScalar = afterScalarMark;
    // The lexer's own marks have no length in the text; one of them announces a scalar.
    afterScalarMark = token === "\u001f";
    if (afterScalarMark || token === "\u0002" || token === "\u0018") continue;
    const start = offset;
    offset += token.length;
    const meaning = isScalar ? undefined : meanings[token[0]];
    if (meaning !== undefined) {
      const [code, what] = meaning;
      const message = `${what}; a scenario file says everything in its place.`;
      issues.push(structural(lines, code, message, start, token.length, token, "write the value itself"));
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
