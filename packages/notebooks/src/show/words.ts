import { unitsKept } from "../controls/index.ts";

/** Words of scripts that run from right to left, with the blanks between them. */
const leftward =
  /[\p{Script=Hebrew}\p{Script=Arabic}](?:[\p{Script=Hebrew}\p{Script=Arabic}\p{M}\s]*[\p{Script=Hebrew}\p{Script=Arabic}])?/gu;

/** A hyphen before a number is its sign; files write it so, sentences with the sign proper. */
const minus = /(^|[\s(…])-(?=\d)/gu;

/**
 * The same text, with each number kept on one line with its unit and its minus sign, and a name that runs from right to left kept to itself:
 * the number behind it would change sides.
 */
export function unbroken(text: string): string {
  return unitsKept(text.replace(leftward, "\u2068$&\u2069").replace(minus, "$1−"));
}
