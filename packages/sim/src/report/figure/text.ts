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
  const lines: string[] = [];
  let line = "";
  const words = keepUnits(text)
    .split(/[ \t\n]+/)
    .filter((word) => word !== "");
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
  return lines.map((each) => shorten(each, size, room, bold));
}
