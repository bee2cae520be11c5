import { dsvFormat } from "d3";

const QUOTE = '"';

/**
 * Cells of each line after RFC 4180, with another mark between them if need be.
 *
 * @param text line feeds at its line ends; one at its end begins a last line without a cell that says anything
 */
export function cellsOf(text: string, delimiter: string): string[][] {
  // Without a quote a mark is a mark: millions of samples need no more.
  if (!text.includes(QUOTE)) return text.split("\n").map((line) => line.split(delimiter));
  // Blanks between a closing quote and the mark are nobody's.
  const tidy = text.replace(/" +(?=[,;\t\n]|$)/g, QUOTE);
  const rows: string[][] = dsvFormat(delimiter).parseRows(tidy);
  return text.endsWith("\n") ? [...rows, [""]] : rows;
}
