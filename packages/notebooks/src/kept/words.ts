import { grouped, type Problem, problem, sizeText } from "./problem.ts";

/** Longest text of a line that is kept, in bytes of UTF-8: the same as a scenario file's. */
export const LARGEST_TEXT = 256 * 1024;
/** Longest name of a kept line, in characters. */
export const LONGEST_NAME = 80;

// Controls, marks that turn the reading direction, what takes no room, and halves of characters.
const UNWANTED = /[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]/u;
const UNWANTED_IN_TEXT = /(?![\t\n\r])[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]/u;
const HALF = /\p{Cs}/u;

/** The first character that cannot be seen; tabs and line ends count unless `lineEnds` allows them. */
export function unwantedCharacter(text: string, lineEnds = false): string | null {
  return (lineEnds ? UNWANTED_IN_TEXT : UNWANTED).exec(text)?.[0] ?? null;
}

/** Length of a text in bytes of UTF-8. */
export function byteLength(text: string): number {
  return new TextEncoder().encode(text).length;
}

/** What forbids keeping a text, or null: more than 256 KB, or half of a character alone. */
export function textProblem(text: string, where: string): Problem | null {
  const bytes = text.length > LARGEST_TEXT ? text.length : byteLength(text);
  if (bytes > LARGEST_TEXT) {
    const received = bytes === text.length ? `${sizeText(bytes)} or more` : sizeText(bytes);
    return problem("text-too-large", where, "The text is too large.", { received, allowed: "up to 256 KB" });
  }
  return halfCharacter(text, where);
}

/** Half of a character that stands alone, so that the text has no bytes; null where there is none. */
export function halfCharacter(text: string, where: string): Problem | null {
  const half = HALF.exec(text);
  if (half === null) return null;
  const line = text.slice(0, half.index).split("\n").length;
  return problem("half-character", where, `Half of a character stands alone in line ${grouped(line)}.`, {
    allowed: "whole characters",
    hint: "Delete it and type it again.",
  });
}

/** A name as it is kept, or what is wrong with it. */
export type Named =
  | { readonly kind: "name"; readonly name: string }
  | { readonly kind: "problem"; readonly problem: Problem };

/**
 * A name as it is kept: composed characters (NFC), no blanks at its ends.
 * Refused: nothing, more than 80 characters, anything invisible.
 *
 * @example tidyName("  Hut, roof ") // { kind: "name", name: "Hut, roof" }
 */
export function tidyName(text: string): Named {
  const refused = (code: string, message: string, allowed: string): Named => ({
    kind: "problem",
    problem: problem(code, "name", message, { received: text, allowed }),
  });
  if (text.length > 100 * LONGEST_NAME) return refused("name-too-long", "The name is too long.", "1 to 80 characters");
  const name = text.normalize("NFC").trim();
  if (name === "") return refused("name-empty", "The name is empty.", "1 to 80 characters");
  if (unwantedCharacter(name) !== null)
    return refused("name-invisible", "The name holds a character that cannot be seen.", "visible characters");
  const length = [...name].length;
  if (length > LONGEST_NAME)
    return refused("name-too-long", `The name has ${grouped(length)} characters.`, "1 to 80 characters");
  return { kind: "name", name };
}

/** What is wrong with a name that should be tidy already, or null. */
export function nameProblem(text: string): Problem | null {
  const named = tidyName(text);
  if (named.kind === "problem") return named.problem;
  if (named.name === text) return null;
  return problem("name-untidy", "name", "The name has blanks at its ends or is composed unusually.", {
    received: text,
    allowed: named.name,
  });
}
