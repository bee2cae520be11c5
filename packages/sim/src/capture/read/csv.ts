const QUOTE = '"';

/**
 * Cells of each line after RFC 4180, with another mark between them if need be. A quote within a cell that does not begin with one is a letter, and so is one in
 * a quoted cell behind which neither the mark nor the line's end stands.
 *
 * @param text line feeds at its line ends; one at its end begins a last line without a cell that says anything
 */
export function cellsOf(text: string, delimiter: string): string[][] {
  if (!text.includes(QUOTE)) return text.split("\n").map((line) => line.split(delimiter));
  const rows: string[][] = [[]];
  for (let at = 0; ; at++) {
    const quoted = text[at] === QUOTE ? quotedCell(text, at, delimiter) : null;
    let end = quoted?.end ?? at;
    if (quoted === null) while (end < text.length && text[end] !== delimiter && text[end] !== "\n") end++;
    rows.at(-1)?.push(quoted?.cell ?? text.slice(at, end));
    if (end >= text.length) return rows;
    if (text[end] === "\n") rows.push([]);
    at = end;
  }
}

function quotedCell(text: string, from: number, delimiter: string): { readonly cell: string; readonly end: number } {
  const cell = (to: number): string => text.slice(from + 1, to).replaceAll('""', QUOTE);
  for (let at = text.indexOf(QUOTE, from + 1); at >= 0; at = text.indexOf(QUOTE, at + 1)) {
    let end = at + 1;
    if (text[end] === QUOTE) {
      at = end;
      continue;
    }
    while (text[end] === " ") end++;
    if (end >= text.length || text[end] === delimiter || text[end] === "\n") return { cell: cell(at), end };
  }
  return { cell: cell(text.length), end: text.length };
}
