/**
 * One problem found in an input: where it stands, what was received, what is allowed and what helps.
 * Errors forbid a run; warnings go with its verdict.
 */
export interface Issue {
  readonly severity: "error" | "warning";
  /** Stable, lower-case, hyphenated: `unknown-key`, `wrong-unit`, `trips-at-rest` … */
  readonly code: string;
  /** Path into the input, for instance `sources[0].lead.length`; empty for the whole. */
  readonly path: string;
  /** A whole sentence without the place. */
  readonly message: string;
  /** What stood there, as it was written; null where nothing stood. */
  readonly received: string | null;
  /** What may stand there; null where the message says all. */
  readonly allowed: string | null;
  /** What to do, or the nearest known name; null where nothing helps. */
  readonly hint: string | null;
  /** Where in the text, when the input was a text. */
  readonly position: Position | null;
}

/** A place in a text; `line` and `column` count from 1, `excerpt` is that line. */
export interface Position {
  readonly file: string;
  readonly line: number;
  readonly column: number;
  readonly length: number;
  readonly excerpt: string;
}

/** Thrown when an input cannot be used; carries every problem found, not only the first. */
export class InvalidInput extends Error {
  override readonly name = "InvalidInput";
  constructor(readonly issues: readonly Issue[]) {
    super(issues.map((issue) => `${issue.path}: ${issue.message}`).join("\n"));
  }
}
