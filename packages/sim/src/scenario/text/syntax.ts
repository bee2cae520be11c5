import { parseDocument, type YAMLError } from "yaml";
import type { Issue } from "../../issue/issue.ts";
import { type Slip, slipsOf } from "./layout.ts";
import { type Lines, positionOf } from "./lines.ts";

const MOST = 50;

const LINED_UP = "begin all entries of one map or list in the same column, and close every bracket and quote";

/** What the reader's own codes mean to somebody who has never heard of its rules, and what helps. */
const PLAIN: Readonly<Record<string, readonly [message: string, hint: string]>> = {
  TAB_AS_INDENT: ["A tab stands at the beginning of this line.", "indent with blanks, two for each level"],
  BAD_INDENT: [
    "This does not begin in the column of the entries that it belongs to, or a bracket above it stays open.",
    LINED_UP,
  ],
  BLOCK_AS_IMPLICIT_KEY: [
    "A key stands here where a value is still going on.",
    "put a text that holds a colon in quotes, and begin all entries of one map in the same column",
  ],
  MISSING_CHAR: ["A quote stays open here, or an entry does not begin in the column of its neighbours.", LINED_UP],
  MULTILINE_IMPLICIT_KEY: [
    "A key stands here that goes on in the next line.",
    "write the key, a colon, a blank and the value in one line, and begin all entries of one map in the same column",
  ],
  UNEXPECTED_TOKEN: ["What stands here belongs to nothing that stands before it.", LINED_UP],
};

/** Reads a text as YAML whose values all stay text. */
export function yamlOf(text: string) {
  // The library's own search for double keys takes quadratic time; ours does not.
  return parseDocument(text, { schema: "failsafe", uniqueKeys: false, prettyErrors: false, logLevel: "silent" });
}

/**
 * What is wrong with a text that YAML refuses, in plain words: one issue for each cause where it can be told. A cause counts
 * as told when the text can be read once it is mended; what stays unread then is told with its place.
 */
export function syntaxIssues(lines: Lines, errors: readonly YAMLError[]): Issue[] {
  // A tab throws the reader off its track: what it goes on to complain of is no mistake of the file's author.
  const tabs = errors.filter(({ code }) => code === "TAB_AS_INDENT");
  if (tabs.length > 0) return plainIssues(lines, tabs);
  const slips = slipsOf(lines.text);
  const mended = mendedText(lines.text, slips);
  const left = slips.length === 0 ? errors : yamlOf(mended).errors;
  if (slips.length > 0 && left.length === 0) return slips.slice(0, MOST).map((slip) => slipIssue(lines, slip));
  // Half an explanation would lead astray.
  return plainIssues(lines, errors);
}

function mendedText(text: string, slips: readonly Slip[]): string {
  const rows = text.split("\n");
  for (const { mend } of slips) {
    const ending = rows[mend.line].endsWith("\r") ? "\r" : "";
    rows[mend.line] = mend.of(rows[mend.line].replace(/\r$/, "")) + ending;
  }
  return rows.join("\n");
}

function slipIssue(lines: Lines, { line, column, length, message, hint }: Slip): Issue {
  const from = lines.starts[line] + column;
  const position = positionOf(lines, from, from + length);
  return { severity: "error", code: "yaml-syntax", path: "", message, received: null, allowed: null, hint, position };
}

function plainIssues(lines: Lines, errors: readonly YAMLError[]): Issue[] {
  const issues: Issue[] = [];
  const told = new Set<number>();
  let lost = false;
  for (const { code, message, pos } of errors) {
    const position = positionOf(lines, pos[0], pos[1]);
    // Where the reader has lost the thread, all that follows is the same complaint.
    if (told.has(position.line) || (code === "UNEXPECTED_TOKEN" && lost)) continue;
    lost = code === "UNEXPECTED_TOKEN";
    told.add(position.line);
    const [words, hint] = PLAIN[code] ?? [`This cannot be read: ${message.replace(/\.?$/, ".")}`, null];
    issues.push({
      severity: "error",
      code: "yaml-syntax",
      path: "",
      message: words,
      received: null,
      allowed: null,
      hint,
      position,
    });
    if (issues.length >= MOST) break;
  }
  return issues;
}
