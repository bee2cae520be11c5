import { isMark } from "./number.ts";

const [TAB, LF, CR, SPACE, PLUS, MINUS, ZERO, NINE] = [9, 10, 13, 32, 43, 45, 48, 57];
const [UPPER_E, LOWER_E] = [69, 101];

/** Powers of ten that a double holds exactly. */
const POWERS = Array.from({ length: 23 }, (_, k) => 10 ** k);

/** What a line is that holds anything else than plain numbers, as many as there are columns. */
export const NOT_PLAIN = -1;
/** Set as `width` where the line was blank. */
export const BLANK = 0;

/**
 * Reads lines of plain numbers, which is what nearly all lines of a long capture are. Everything else (quotes, words, another number of cells) is left
 * to the CSV parser. A number of up to 2⁵³ times a power of ten of up to 22 is worked out exactly rounded (Clinger, "How to read floating point numbers
 * accurately", PLDI 1990); any other goes through the language's own reading.
 */
export class PlainLines {
  readonly row: Float64Array;
  /** The largest whole number that the digits of a cell make, by column. */
  readonly most: Float64Array;
  /** Cells of the line read last. */
  width = 0;
  private readonly delimiter: number;
  private readonly decimal: number;

  constructor(columns: number, delimiter: string, decimal: string) {
    this.row = new Float64Array(columns);
    this.most = new Float64Array(columns);
    this.delimiter = delimiter.charCodeAt(0);
    this.decimal = decimal.charCodeAt(0);
  }

  /**
   * Reads one line into `row`; an empty cell is NaN.
   *
   * @param text ends with a line feed
   * @returns where the next line begins, or `NOT_PLAIN`
   */
  read(text: string, from: number): number {
    const { row, most, delimiter, decimal } = this;
    let at = from;
    let column = 0;
    for (;;) {
      let code = text.charCodeAt(at);
      while (code === SPACE || (code === TAB && delimiter !== TAB)) code = text.charCodeAt(++at);
      const start = at;
      const negative = code === MINUS;
      if (negative || code === PLUS) code = text.charCodeAt(++at);
      const digitsFrom = at;
      let mantissa = 0;
      let scale = 0;
      while (code >= ZERO && code <= NINE) {
        mantissa = 10 * mantissa + code - ZERO;
        code = text.charCodeAt(++at);
      }
      let digits = at - digitsFrom;
      if (code === decimal && decimal !== delimiter) {
        const pointAt = at;
        code = text.charCodeAt(++at);
        while (code >= ZERO && code <= NINE) {
          mantissa = 10 * mantissa + code - ZERO;
          code = text.charCodeAt(++at);
        }
        scale = pointAt + 1 - at;
        digits -= scale;
        if (digits === 0) return NOT_PLAIN;
      }
      let value = Number.NaN;
      if (digits > 0) {
        if (code === LOWER_E || code === UPPER_E) {
          code = text.charCodeAt(++at);
          const below = code === MINUS;
          if (below || code === PLUS) code = text.charCodeAt(++at);
          if (!(code >= ZERO && code <= NINE)) return NOT_PLAIN;
          let exponent = 0;
          while (code >= ZERO && code <= NINE) {
            exponent = 10 * exponent + code - ZERO;
            code = text.charCodeAt(++at);
          }
          scale += below ? -exponent : exponent;
        }
        value = scaled(mantissa, scale);
        if (Number.isNaN(value)) value = Math.abs(Number(text.slice(start, at).replace(",", ".")));
        // What stands for no number or for infinity is no plain one.
        if (!Number.isFinite(value) || isMark(value)) return NOT_PLAIN;
        if (mantissa > most[column]) most[column] = mantissa;
      } else if (at !== start) return NOT_PLAIN;
      while (code === SPACE) code = text.charCodeAt(++at);
      if (column === 0 && at === start && (code === LF || code === CR) && at === from) {
        this.width = BLANK;
        return code === LF ? at + 1 : text.charCodeAt(at + 1) === LF ? at + 2 : NOT_PLAIN;
      }
      if (column === row.length) return NOT_PLAIN;
      row[column++] = negative ? -value : value;
      if (code === delimiter) {
        at++;
        continue;
      }
      if (code === CR) code = text.charCodeAt(++at);
      this.width = column;
      return code === LF && column === row.length ? at + 1 : NOT_PLAIN;
    }
  }
}

/** NaN where more than one rounding would be needed. */
function scaled(mantissa: number, scale: number): number {
  if (mantissa > Number.MAX_SAFE_INTEGER || scale > 22 || scale < -22) return mantissa === 0 ? 0 : Number.NaN;
  return scale < 0 ? mantissa / POWERS[-scale] : mantissa * POWERS[scale];
}
