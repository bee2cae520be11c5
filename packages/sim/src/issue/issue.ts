/** One problem found in an input: where it stands, what was received, what is allowed and what helps. */
export interface Issue {
  /** Errors forbid a run; warnings go with its verdict. */
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

/** A place in a text; `line` and `column` count from 1, `excerpt` is that line, or of a long line the part around the place. */
export interface Position {
  /** Its name as it was given. */
  readonly file: string;
  readonly line: number;
  readonly column: number;
  /** Of the place, in characters. */
  readonly length: number;
  readonly excerpt: string;
  /** Column at which the excerpt begins; left out where that is 1. */
  readonly excerptFrom?: number;
}

/** More of a stranger's text than this makes no problem clearer; a hostile file would come back a hundred times its size. */
const LONGEST = 1000;

const cut = (text: string): string => (text.length > LONGEST ? `${text.slice(0, LONGEST)}…` : text);

/** The same issue with no more of what was written than helps. What is allowed is our own words. */
export function inBounds(issue: Issue): Issue {
  const { message, path, received, hint } = issue;
  if (Math.max(message.length, path.length, received?.length ?? 0, hint?.length ?? 0) <= LONGEST) return issue;
  const cutOrNull = (text: string | null): string | null => (text === null ? null : cut(text));
  return { ...issue, message: cut(message), path: cut(path), received: cutOrNull(received), hint: cutOrNull(hint) };
}

/** What is wrong and what helps, in sentences, where there is no room for the place. */
export const withRemedy = ({ message, hint }: Issue): string =>
  hint === null ? message : `${message} Remedy: ${hint.replace(/\.?$/, ".")}`;

/** A line as it stands in a position: of a long one what lies around a column, counted from 1. */
export function excerptOf(line: string, column: number): Pick<Position, "excerpt" | "excerptFrom"> {
  if (line.length <= LONGEST) return { excerpt: line };
  const from = Math.max(0, Math.min(column - 1 - LONGEST / 4, line.length - LONGEST));
  return { excerpt: line.slice(from, from + LONGEST), ...(from === 0 ? {} : { excerptFrom: from + 1 }) };
}

/** Thrown when an input cannot be used; carries every problem found, not only the first. */
export class InvalidInput extends Error {
  override readonly name = "InvalidInput";
  constructor(
    /** Every problem found, at least one of them an error. */
    readonly issues: readonly Issue[],
  ) {
    super(issues.map((issue) => `${issue.path}: ${issue.message}`).join("\n"));
  }
}
