import type { draws } from "../../scenario/draws.ts";

export type Draws = ReturnType<typeof draws>;

/** What strangers put into texts: controls, marks that turn or hide, halves of characters, markup, names of the machine, numbers beyond all bounds. */
export const HOSTILE: readonly string[] = [
  "\0",
  "\u001b[2J",
  "\r",
  "\n",
  "\r\n",
  "\t",
  "\u0007",
  "\u009b31m",
  "\u202e",
  "\u2066",
  "\u200b",
  "\ufeff",
  "\ud800",
  "\udc00",
  "\uffff",
  "\u{e0041}",
  "\u00ad",
  "😀",
  "é",
  "<img src=x onerror=alert(1)>",
  "</script><script>alert(1)</script>",
  "]]>",
  "&#x1b;",
  `$\{process.exit()}`,
  "=cmd()",
  "'",
  '"',
  "\\",
  "__proto__",
  "constructor",
  "toString",
  "hasOwnProperty",
  "1e400",
  "-1e400",
  "1e-400",
  "NaN",
  "Infinity",
  "-0",
  "0x10",
  "9".repeat(400),
  `0.${"0".repeat(400)}1`,
  " ".repeat(300),
  "x".repeat(300),
  "ß".repeat(100),
];

/** A text of so many characters at most, whatever is done to it. */
const LONGEST = 300_000;

const below = (draw: Draws, bound: number): number => Math.floor(draw.next() * bound);

/** A text with one to five injuries: something put in, taken out, doubled, crossed with another text, or repeated hundreds of times. */
export function injured(draw: Draws, corpus: readonly string[], pieces: readonly string[]): string {
  let text = draw.from(corpus);
  for (let left = 1 + below(draw, 5); left > 0; left -= 1) {
    const at = below(draw, text.length + 1);
    const kind = draw.next();
    if (kind < 0.45) text = text.slice(0, at) + draw.from(pieces) + text.slice(at + below(draw, 6));
    else if (kind < 0.6) text = text.slice(0, at) + text.slice(at + below(draw, 60));
    else if (kind < 0.75) text = text.slice(0, at + below(draw, 120)) + text.slice(at);
    else if (kind < 0.85) {
      const other = draw.from(corpus);
      text = text.slice(0, at) + other.slice(below(draw, other.length + 1)).slice(0, 400) + text.slice(at);
    } else if (kind < 0.97) text = text.slice(0, at) + draw.from(pieces).repeat(1 + below(draw, 8)) + text.slice(at);
    else if (kind < 0.99) text = draw.from(pieces) + text;
    else text = text.slice(0, at) + draw.from(pieces).slice(0, 8).repeat(below(draw, 500)) + text.slice(at);
  }
  return text.slice(0, LONGEST);
}

/** Its bytes, now and then with some that no text has. */
export function bytesOf(draw: Draws, text: string): Uint8Array<ArrayBuffer> {
  const bytes = new TextEncoder().encode(text);
  if (draw.next() < 0.2)
    for (let left = 1 + below(draw, 4); left > 0 && bytes.length > 0; left -= 1)
      bytes[below(draw, bytes.length)] = below(draw, 256);
  return bytes;
}
