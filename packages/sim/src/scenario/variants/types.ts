import type { Issue } from "../../issue/issue.ts";
import type { Path } from "../keys.ts";
import type { ScenarioResult } from "../resolve/index.ts";
import type { SchemeWord } from "../schema/scheme-words.ts";
import type { LineChange } from "./change.ts";

/** A line beside the base line: the same fault, something else in between. */
export interface VariantLine {
  /** As the comparison calls it. */
  readonly name: string;
  /** What is different, in a line; may be empty. */
  readonly about: string;
  /** The ready-made scheme that it begins with; null: none. */
  readonly scheme: SchemeWord | null;
  /** Where it stands in the file; null for a ready-made one that does not. */
  readonly path: Path | null;
  /** In the order in which they are made on the base line. */
  readonly changes: readonly LineChange[];
  /** The variant as it was read; its issues name the variant, and stand where the file says the words that lead to them. */
  readonly parsed: ScenarioResult;
  /** Gives problems that were found only in the complete scenario their place in the file, as `placeIssues` does. */
  readonly place: (issues: readonly Issue[]) => readonly Issue[];
}

/** A file with everything it compares. */
export interface VariantLines {
  /** The line as it stands. */
  readonly base: ScenarioResult;
  /** Those of the file, in its order; empty where the base line has an error. */
  readonly variants: readonly VariantLine[];
  /** The ready-made ones that were asked for, in that order. */
  readonly schemes: readonly VariantLine[];
  /** Of the base line and of the variants in the file, in the order of the text; each once. */
  readonly issues: readonly Issue[];
}
