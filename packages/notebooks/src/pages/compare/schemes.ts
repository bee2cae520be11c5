import {
  asValue,
  changeTexts,
  flowText,
  InvalidInput,
  type Issue,
  isSchemeWord,
  SCHEME_ABOUT,
  SCHEME_WORDS,
  variantLines,
  writtenVariants,
} from "@railfault/sim";
import type { Change } from "../../kept/state.ts";
import type { LineNow } from "../../line/line.ts";

/** A scheme as the page lists it. */
export interface Listed {
  readonly name: string;
  /** What is different, in a line; may be empty. */
  readonly about: string;
  /** What it changes, as a person would write it behind its name. */
  readonly change: string;
  /** As it stands in the file's list, on one line. */
  readonly text: string;
}

/** The schemes that a line is compared with, in their order: its own variants, or the ready-made ones where it has none. */
export function schemesOf({ parsed }: LineNow): readonly Listed[] {
  const own = writtenVariants(parsed.written);
  return (own.length > 0 ? own : SCHEME_WORDS).map(listed);
}

function listed(written: unknown): Listed {
  const text = flowText(written);
  if (typeof written === "string")
    return { name: written, about: aboutScheme(written), change: `scheme: ${asValue(written)}`, text };
  const { name, about, ...rest } = Object(written) as Record<string, unknown>;
  const { scheme } = rest;
  const change = flowText(rest).slice(1, -1);
  const said = typeof about === "string" ? about : Object.keys(rest).length === 1 ? aboutScheme(scheme) : "";
  return { name: String(name ?? scheme ?? ""), about: said || change, change, text };
}

const aboutScheme = (word: unknown): string =>
  typeof word === "string" && isSchemeWord(word) ? SCHEME_ABOUT[word] : "";

/** A scheme of one's own as it stands in the list. */
export const schemeText = (name: string, change: string): string => `{name: ${asValue(name)}, ${change}}`;

/** The list as a change of the line; without any the ready-made schemes stand in. */
export const listChange = (texts: readonly string[]): readonly Change[] => [
  [["variants"], texts.length === 0 ? null : `[${texts.join(", ")}]`],
];

/** What is wrong with one entry of a list that is not yet the line's. */
export function problemsOf({ text, title }: LineNow, texts: readonly string[], index: number): readonly Issue[] {
  try {
    const { issues } = variantLines(changeTexts(text, listChange(texts)), `${title}.yaml`);
    const own = `variants[${index}]`;
    return issues.filter(({ severity, path }) => severity === "error" && path.startsWith(own));
  } catch (error) {
    if (!(error instanceof InvalidInput)) throw error;
    return error.issues;
  }
}
