/** Breaks a text into lines of at most `width` characters at spaces; a longer word keeps a line of its own. Not before a unit. */
export function wrap(text: string, width: number, first = "", rest = first): string {
  // A number stays with its unit, so a space between them is no place to break.
  const words = text
    .replace(/(\d) (?=(?:[kmµnM]?[VAJWHFsΩ]|min|h|days|A²s|A\/µs|V\/ms|°C|K|%)(?![\p{L}\d]))/gu, "$1\u00a0")
    .split(/ +/)
    .filter((word) => word !== "");
  const lines: string[] = [];
  let line = first;
  let empty = true;
  for (const word of words) {
    if (!empty && line.length + 1 + word.length > width) {
      lines.push(line);
      line = rest;
      empty = true;
    }
    line += empty ? word : ` ${word}`;
    empty = false;
  }
  if (!empty) lines.push(line);
  return lines.join("\n").replaceAll("\u00a0", " ");
}
