/** Advance widths of U+0020…U+007E in DejaVu Sans, thousandths of the type size (from the font's own table). */
const regular = [
  318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337, 636, 636, 636, 636, 636, 636, 636,
  636, 636, 636, 337, 337, 838, 838, 838, 531, 1000, 684, 686, 698, 770, 632, 575, 775, 752, 295, 295, 656, 557, 863,
  748, 787, 603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838, 500, 500, 613, 635, 550, 635,
  615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612, 635, 635, 411, 521, 392, 634, 592, 818, 592, 592, 525, 636,
  337, 636, 838,
];

/** The bold cut runs this much wider, its widest letters included (from the same tables). */
const boldFactor = 1.16;

const others: Readonly<Record<string, number>> = {
  µ: 636,
  "\u00a0": 318,
  "\u202f": 250,
  "²": 401,
  "·": 318,
  "–": 500,
  "°": 500,
  "◂": 502,
  "▸": 502,
};

/** What a picture says of its own run. */
export const factsSize = 12;

/** The widest of the families below, so that an estimate never falls short. */
export const fontFamily = "'DejaVu Sans', 'Segoe UI', system-ui, sans-serif";

/** Width of a text set in `fontFamily`, CSS pixels; characters beyond the table count as one em at most. */
export function textWidth(text: string, size: number, bold = false): number {
  let thousandths = 0;
  for (const character of text) {
    const code = character.codePointAt(0) ?? 0;
    thousandths += regular[code - 32] ?? others[character] ?? (code < 0x250 ? 700 : 1000);
  }
  return (thousandths / 1000) * size * (bold ? boldFactor : 1);
}

/** The text, or as much of it as fits `room` pixels with an ellipsis; empty where not even that fits. */
export function shorten(text: string, size: number, room: number, bold = false): string {
  if (textWidth(text, size, bold) <= room) return text;
  const characters = [...text];
  for (let length = characters.length - 1; length > 0; length--) {
    const candidate = `${characters.slice(0, length).join("").trimEnd()}…`;
    if (textWidth(candidate, size, bold) <= room) return candidate;
  }
  return "";
}

/** Keeps numbers and their units on one line. */
export function unbroken(text: string): string {
  return text.replaceAll(" ", "\u00a0");
}

/** The same text with each number on one line with its unit. */
export function keepUnits(text: string): string {
  return text.replace(
    /(\d) (?=(?:[pnµmkM]?(?:V|A|s|Ω|F|H|W|J|K|A²s|Wh|Ah)|mm²|min|h|days|°C|%|K\/W|A\/µs|V\/(?:s|ms|h)|times)(?![\p{L}\d]))/gu,
    "$1\u00a0",
  );
}

/** Breaks a text between words into at most `most` lines of `room` pixels; what is left over is shortened. */
export function wrap(text: string, size: number, room: number, most: number, bold = false): string[] {
  return broken(wordsOf(text), size, room, most, bold).map((each) => shorten(each, size, room, bold));
}

/** A text in lines, with the size at which it has room. */
export interface FittedText {
  readonly size: number;
  readonly lines: readonly string[];
}

type Setting = readonly [size: number, most: number];

/** A title in `room` pixels: smaller where it is long, for what is cut off is lost to whoever reads it. */
export function fitTitle(text: string, narrow: boolean, room: number): FittedText {
  const [first, ...smaller]: readonly [Setting, ...Setting[]] = narrow
    ? [
        [17, 3],
        [15, 4],
        [13, 6],
      ]
    : [
        [21, 2],
        [17, 2],
        [13, 3],
      ];
  return fitted(text, first, smaller, room, true);
}

/** The sentence below a title; in its usual size it takes `most` lines. */
export function fitSubtitle(text: string, narrow: boolean, room: number, most: number): FittedText {
  return narrow
    ? fitted(text, [13, most], [[12, 12]], room, false)
    : fitted(
        text,
        [15, most],
        [
          [13, most + 1],
          [12, most + 2],
        ],
        room,
        false,
      );
}

/** At the first setting that has room for it all, a word wider than a line broken too; where none has, what is left over is shortened. */
function fitted(
  text: string,
  [size, most]: Setting,
  smaller: readonly Setting[],
  room: number,
  bold: boolean,
): FittedText {
  const words = wordsOf(text).flatMap((word) => piecesOf(word, size, room, bold));
  const lines = broken(words, size, room, most, bold);
  const [next, ...others] = smaller;
  if (next !== undefined && lines.some((line) => textWidth(line, size, bold) > room))
    return fitted(text, next, others, room, bold);
  return { size, lines: lines.map((line) => shorten(line, size, room, bold)) };
}

const wordsOf = (text: string): string[] =>
  keepUnits(text)
    .split(/[ \t\n]+/)
    .filter((word) => word !== "");

/** Lines of at most `room` pixels; the last one holds what is left over. */
function broken(words: readonly string[], size: number, room: number, most: number, bold: boolean): string[] {
  const lines: string[] = [];
  let line = "";
  for (const [index, word] of words.entries()) {
    const longer = line === "" ? word : `${line} ${word}`;
    if (line === "" || textWidth(longer, size, bold) <= room) {
      line = longer;
    } else if (lines.length === most - 1) {
      line = [line, ...words.slice(index)].join(" ");
      break;
    } else {
      lines.push(line);
      line = word;
    }
  }
  if (line !== "") lines.push(line);
  return lines;
}

/** A word in pieces that a line has room for; broken behind a dash where there is one. */
function piecesOf(word: string, size: number, room: number, bold: boolean): string[] {
  const pieces: string[] = [];
  let piece = "";
  for (const character of word) {
    if (piece !== "" && textWidth(piece + character, size, bold) > room) {
      const dash = /^.*[-_/](?=.)/.exec(piece)?.[0] ?? piece;
      pieces.push(dash);
      piece = piece.slice(dash.length);
    }
    piece += character;
  }
  return [...pieces, piece];
}
