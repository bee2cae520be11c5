import type { Issue, Position } from "../issue/issue.ts";
import { visible } from "./text/characters.ts";

/** Columns shown of a long line. */
const WIDTH = 100;

/**
 * Issues the way a compiler prints them: place, what is wrong, the line with a caret under it, what was received, what
 * is allowed, what helps.
 *
 * @returns text ending with a count; empty without issues
 *
 * @example formatIssues(parseScenario("ambient: 20\n", "hut.yaml").issues)
 */
export function formatIssues(issues: readonly Issue[]): string {
  if (issues.length === 0) return "";
  return `${issues.map(formatIssue).join("\n\n")}\n\n${count(issues)}\n`;
}

function formatIssue(issue: Issue): string {
  const { position } = issue;
  const place = position === null ? issue.path : `${position.file}:${position.line}:${position.column}`;
  const head = `${place === "" ? "" : `${place}: `}${issue.severity}: ${issue.message} [${issue.code}]`;
  const lines = [visible(head)];
  if (position !== null) lines.push(...excerpt(position));
  if (issue.path !== "" && position !== null) lines.push(`  at:       ${visible(issue.path)}`);
  if (issue.received !== null) lines.push(`  received: ${visible(shortened(issue.received))}`);
  if (issue.allowed !== null) lines.push(`  allowed:  ${visible(issue.allowed)}`);
  if (issue.hint !== null) lines.push(`  help:     ${visible(issue.hint)}`);
  return lines.join("\n");
}

function excerpt(position: Position): string[] {
  const { excerptFrom = 1 } = position;
  const from = Math.max(excerptFrom, position.column > WIDTH - 20 ? position.column - WIDTH / 2 : 1);
  const line = visible(position.excerpt.slice(from - excerptFrom, from - excerptFrom + WIDTH));
  const column = position.column - from;
  const length = Math.max(1, Math.min(position.length, line.length - column));
  const number = String(position.line);
  const blank = " ".repeat(number.length);
  return [`  ${number} | ${line}`, `  ${blank} | ${" ".repeat(column)}${"^".repeat(length)}`];
}

function shortened(text: string): string {
  return text.length > WIDTH ? `${text.slice(0, WIDTH)}…` : text;
}

function count(issues: readonly Issue[]): string {
  const errors = issues.filter(({ severity }) => severity === "error").length;
  const warnings = issues.length - errors;
  const parts = [
    errors > 0 ? `${errors} error${errors === 1 ? "" : "s"}` : "",
    warnings > 0 ? `${warnings} warning${warnings === 1 ? "" : "s"}` : "",
  ];
  return parts.filter((part) => part !== "").join(", ");
}
