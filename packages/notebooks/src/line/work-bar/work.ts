import type { KeptLine } from "../keeping.ts";
import type { Line } from "../line.ts";
import type { KeptCopies } from "./kept-copy.ts";
import type { NoticeView } from "./notice.ts";

export interface WorkBarOptions {
  readonly line: Line;
  readonly kept: KeptLine;
  /** Tells what has just been done. */
  readonly say: (message: string) => void;
  /** Whether a text with errors is opened too: on the page that shows the text itself. Left out: no. */
  readonly anyText?: boolean;
  /** The page on which a text with errors can be mended. Left out: `file.html`. */
  readonly textPage?: string;
  /** Files that the page takes itself when they are dropped, and what is said while one is held over it. Left out: none. */
  readonly otherFiles?: OtherFiles | null;
}

/** Files that are no lines. */
export interface OtherFiles {
  readonly hint: string;
  /** Takes a file, or says no: then it is opened as a line. */
  take(file: File): boolean;
}

/** What all parts of the work bar share. */
export interface Work extends Required<WorkBarOptions> {
  readonly document: Document;
  readonly notices: NoticeView;
  readonly copies: KeptCopies;
}
