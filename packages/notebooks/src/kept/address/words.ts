import type { Path } from "../state.ts";

// What a fragment may hold as it is and what programs that find links in a text leave inside the link.
const PLAIN = /[A-Za-z0-9\-_.~:/,@]/;

/** A text as it stands in an address: blanks as `+`, what an address cannot hold as `%` and its bytes. */
export function escapeWord(text: string): string {
  let written = "";
  for (const character of text) {
    if (character === " ") written += "+";
    else written += PLAIN.test(character) ? character : escapeAlways(character);
  }
  return written;
}

function escapeAlways(character: string): string {
  const encoded = encodeURIComponent(character);
  if (encoded !== character) return encoded;
  return `%${character.charCodeAt(0).toString(16).toUpperCase().padStart(2, "0")}`;
}

/** An address whose last character is no mark that a program may take for the end of a sentence. */
export function closedAddress(address: string): string {
  const last = address.slice(-1);
  return /[.,:/~@]/.test(last) ? address.slice(0, -1) + escapeAlways(last) : address;
}

/** The text that an address holds, or null when it holds none. */
export function unescapeWord(written: string): string | null {
  try {
    return decodeURIComponent(written.replaceAll("+", " "));
  } catch {
    return null;
  }
}

const INDEX = /^(?:0|[1-9]\d{0,3})$/;

/**
 * A path in words: steps with dots between them; `~` before a character of a key that would mean something else.
 *
 * @example pathWord(["sources", 0, "set voltage"]) // "sources.0.set voltage"
 */
export function pathWord(path: Path): string {
  const step = (key: string): string => (/^\d+$/.test(key) ? `~${key}` : key.replace(/[.~]/g, "~$&"));
  return path.map((one) => (typeof one === "number" ? String(one) : step(one))).join(".");
}

/** The path of such words, or null: a `~` before nothing, or a number that is no place in a list. */
export function pathFrom(word: string): (string | number)[] | null {
  const path: (string | number)[] = [];
  let step = "";
  let escaped = false;
  const end = (): boolean => {
    const number = !escaped && /^\d+$/.test(step);
    if (number && !INDEX.test(step)) return false;
    path.push(number ? Number(step) : step);
    step = "";
    escaped = false;
    return true;
  };
  for (let index = 0; index < word.length; index += 1) {
    const character = word[index];
    if (character === ".") {
      if (!end()) return null;
    } else if (character === "~") {
      index += 1;
      if (index === word.length) return null;
      escaped = true;
      step += word[index];
    } else step += character;
  }
  return end() ? path : null;
}
