import { excerptOf, type Position } from "../../issue/issue.ts";

/** A text with its lines, to turn offsets into places that a reader finds. */
export interface Lines {
  readonly file: string;
  readonly text: string;
  /** Offset of the first character of each line. */
  readonly starts: readonly number[];
}

/** A text that goes on behind this is refused for its length, and its lines are of no interest. */
const SCANNED = 1024 * 1024;

export function linesOf(text: string, file: string): Lines {
  const starts = [0];
  for (let index = text.indexOf("\n"); index >= 0 && index < SCANNED; index = text.indexOf("\n", index + 1))
    starts.push(index + 1);
  return { file, text, starts };
}

/** The place of a stretch of text, cut at the end of its first line. */
export function positionOf(lines: Lines, from: number, to: number): Position {
  const { starts, text, file } = lines;
  let low = 0;
  let high = starts.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (starts[middle] <= from) low = middle;
    else high = middle - 1;
  }
  const start = starts[low];
  const next = starts[low + 1];
  const whole = text.slice(start, next === undefined ? text.length : next - 1).replace(/\r$/, "");
  const length = Math.max(1, Math.min(to, start + whole.length) - from);
  const column = from - start + 1;
  return { file, line: low + 1, column, length, ...excerptOf(whole, column) };
}
