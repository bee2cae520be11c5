import { relative } from "node:path";
import { checkout } from "./paths.ts";

/** A mistake in a notebook file, told with the file's name and the line in it. */
export class NotebookProblem extends Error {
  override readonly name = "NotebookProblem";
  readonly file: string;
  readonly line: number;
  /** What is wrong, without the place. */
  readonly what: string;

  constructor(file: string, line: number, what: string) {
    super(`${relative(checkout, file).replaceAll("\\", "/")}:${line}: ${what}`);
    this.file = file;
    this.line = line;
    this.what = what;
  }
}

/** The line, counted from 1, of a place in a text. */
export function lineAt(text: string, offset: number): number {
  return text.slice(0, offset).split("\n").length;
}
