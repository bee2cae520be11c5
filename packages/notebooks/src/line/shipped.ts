import { shippedTexts } from "./shipped-texts.ts";

/** A line that comes with the pages. */
export interface ShippedLine {
  /** Its file's name without the ending: `02-hiccup-supply`. */
  readonly name: string;
  readonly title: string;
  readonly question: string;
  /** The scenario file, byte for byte. */
  readonly text: string;
}

/** The lines that come with the pages, in the order of their files. */
export const shippedLines: readonly ShippedLine[] = Object.entries(shippedTexts)
  .map(([name, text]) => ({
    name,
    title: topLevel(text, "title") ?? name,
    question: topLevel(text, "question") ?? "",
    text,
  }))
  .sort((a, b) => a.name.localeCompare(b.name));

/**
 * A line that comes with the pages.
 *
 * @throws RangeError when there is none of this name
 * @example shippedLine("04-foldback").text
 */
export function shippedLine(name: string): ShippedLine {
  const found = shippedLines.find((line) => line.name === name);
  if (found === undefined) throw new RangeError(`there is no line “${name}”`);
  return found;
}

/** Shipped files write title and question as plain text on one line each; reading 26 of them in full would cost the page its first second. */
function topLevel(text: string, key: string): string | null {
  return new RegExp(`^${key}: (.+)$`, "m").exec(text)?.[1]?.trim() ?? null;
}
