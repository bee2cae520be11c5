/** Longer runs of plain characters than this would not fit into one call. */
const BLOCK = 8192;

/**
 * Bytes to text, piece by piece: UTF-8 and UTF-16 by their marks; a byte that is no UTF-8 is taken for a letter of Latin-1, which is how loggers
 * write ° and µ. By hand, for the decoder of browsers and of Node belongs to neither the language nor to both alike in types.
 */
export class Decoder {
  private rest = new Uint8Array(0);
  private form: "unknown" | "utf-8" | "little" | "big" = "unknown";
  /** How many bytes were no UTF-8. */
  foreign = 0;

  /** @returns the text as far as its bytes are complete */
  push(bytes: Uint8Array): string {
    let all = bytes;
    if (this.rest.length > 0) {
      all = new Uint8Array(this.rest.length + bytes.length);
      all.set(this.rest);
      all.set(bytes, this.rest.length);
      this.rest = new Uint8Array(0);
    }
    if (this.form === "unknown") {
      if (all.length < 3) {
        this.rest = all.slice();
        return "";
      }
      all = this.begin(all);
    }
    return this.form === "utf-8" ? this.utf8(all, false) : this.utf16(all);
  }

  /** @returns what the last bytes come to */
  end(): string {
    const all = this.rest;
    this.rest = new Uint8Array(0);
    return this.form === "little" || this.form === "big" ? "" : this.utf8(all, true);
  }

  private begin(all: Uint8Array): Uint8Array {
    const [a, b, c] = all;
    if (a === 0xff && b === 0xfe) this.form = "little";
    else if (a === 0xfe && b === 0xff) this.form = "big";
    else {
      this.form = "utf-8";
      return a === 0xef && b === 0xbb && c === 0xbf ? all.subarray(3) : all;
    }
    return all.subarray(2);
  }

  private utf16(all: Uint8Array): string {
    const even = all.length & ~1;
    if (even < all.length) this.rest = all.slice(even);
    const [high, low] = this.form === "big" ? [0, 1] : [1, 0];
    const pieces: string[] = [];
    for (let from = 0; from < even; from += 2 * BLOCK) {
      const codes: number[] = [];
      for (let at = from; at < Math.min(even, from + 2 * BLOCK); at += 2)
        codes.push((all[at + high] << 8) | all[at + low]);
      pieces.push(String.fromCharCode(...codes));
    }
    return pieces.join("");
  }

  private utf8(all: Uint8Array, last: boolean): string {
    const pieces: string[] = [];
    for (let from = 0; from < all.length; ) {
      let to = from;
      const end = Math.min(all.length, from + BLOCK);
      while (to < end && all[to] < 0x80) to++;
      if (to > from) pieces.push(String.fromCharCode.apply(null, all.subarray(from, to) as unknown as number[]));
      from = to;
      if (from >= all.length || all[from] < 0x80) continue;
      const length = all[from] >= 0xf0 ? 4 : all[from] >= 0xe0 ? 3 : 2;
      if (from + length > all.length && !last) {
        this.rest = all.slice(from);
        break;
      }
      const code = codePoint(all, from, length);
      if (code === null) this.foreign++;
      pieces.push(String.fromCodePoint(code ?? all[from]));
      from += code === null ? 1 : length;
    }
    return pieces.join("");
  }
}

/** What a sequence of UTF-8 stands for; null where it is none (RFC 3629, section 4). */
function codePoint(bytes: Uint8Array, at: number, length: number): number | null {
  if (bytes[at] < 0xc2 || bytes[at] > 0xf4) return null;
  let code = bytes[at] & (0x7f >> length);
  for (let k = 1; k < length; k++) {
    const next = bytes[at + k];
    if (next === undefined || (next & 0xc0) !== 0x80) return null;
    code = (code << 6) | (next & 0x3f);
  }
  const least = length === 3 ? 0x800 : length === 4 ? 0x10000 : 0x80;
  return code < least || code > 0x10ffff || (code >= 0xd800 && code <= 0xdfff) ? null : code;
}

/** Whether a text looks like what no program writes as text: zeros, or more than one control character in a hundred. */
export function looksBinary(text: string): boolean {
  let odd = 0;
  for (let at = 0; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code === 0) return true;
    if (code < 9 || (code > 13 && code < 32)) odd++;
  }
  return odd > 0.01 * text.length;
}
