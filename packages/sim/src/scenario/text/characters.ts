// Ranges of characters that have no place in a scenario: controls (but for tab, line feed, carriage return), marks that
// reorder text, what takes no room on a screen, and what a file of a picture cannot hold. First and last of each. Of 0xdb40 on there are only marks
// without a look.
const FORBIDDEN: readonly (readonly [first: number, last: number])[] = [
  [0x00, 0x08],
  [0x0b, 0x0c],
  [0x0e, 0x1f],
  [0x7f, 0x9f],
  [0xad, 0xad],
  [0x61c, 0x61c],
  [0x180e, 0x180e],
  [0x200b, 0x200f],
  [0x2028, 0x202e],
  [0x2060, 0x206f],
  [0xdb40, 0xdb40],
  [0xfeff, 0xfeff],
  [0xfff9, 0xfffb],
  [0xfffe, 0xffff],
];

const REORDERING: readonly (readonly [first: number, last: number])[] = [
  [0x61c, 0x61c],
  [0x200e, 0x200f],
  [0x202a, 0x202e],
  [0x2066, 0x2069],
];

/** Whether what stands in a text is invisible, a control, a mark that reorders text, or half of a character. */
export function isForbidden(text: string, index: number): boolean {
  const code = text.charCodeAt(index);
  // Nearly all of every text.
  if (code >= 0x20 && code < 0x7f) return false;
  return FORBIDDEN.some(([first, last]) => code >= first && code <= last) || isHalf(text, index);
}

/** A character beyond the first 65 536 stands as two halves; one of them alone has no bytes in a file. */
function isHalf(text: string, index: number): boolean {
  const kind = (at: number): number => text.charCodeAt(at) & 0xfc00;
  if (kind(index) === 0xd800) return kind(index + 1) !== 0xdc00;
  return kind(index) === 0xdc00 && kind(index - 1) !== 0xd800;
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
    shown += code < 0x20 || isForbidden(text, index) ? (code === 0x09 ? " " : "\ufffd") : text[index];
  }
  return shown;
}
