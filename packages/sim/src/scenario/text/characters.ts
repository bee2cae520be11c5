// Ranges of characters that have no place in a scenario: controls (but for tab, line feed, carriage return), marks that
// reorder text, and what takes no room on a screen. First and last of each.
const FORBIDDEN: readonly (readonly [first: number, last: number])[] = [
  [0x00, 0x08],
  [0x0b, 0x0c],
  [0x0e, 0x1f],
  [0x7f, 0x9f],
  [0x61c, 0x61c],
  [0x200b, 0x200f],
  [0x2028, 0x202e],
  [0x2060, 0x2069],
  [0xfeff, 0xfeff],
  [0xfff9, 0xfffb],
];

const REORDERING: readonly (readonly [first: number, last: number])[] = [
  [0x61c, 0x61c],
  [0x200e, 0x200f],
  [0x202a, 0x202e],
  [0x2066, 0x2069],
];

/** Whether a character code is invisible, a control or a mark that reorders text. */
export function isForbidden(code: number): boolean {
  return FORBIDDEN.some(([first, last]) => code >= first && code <= last);
}

/** Whether a character code changes the reading direction. */
export function isReordering(code: number): boolean {
  return REORDERING.some(([first, last]) => code >= first && code <= last);
}

/** A text that takes one column for each of its characters and does nothing to a terminal. */
export function visible(text: string): string {
  let shown = "";
  for (let index = 0; index < text.length; index += 1) {
    const code = text.charCodeAt(index);
    shown += code < 0x20 || isForbidden(code) ? (code === 0x09 ? " " : "\ufffd") : text[index];
  }
  return shown;
}
