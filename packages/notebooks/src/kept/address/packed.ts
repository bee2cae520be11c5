import { deflateSync, Inflate } from "fflate";
import { LARGEST_TEXT } from "../words.ts";

/** Why a packed text could not be unpacked. */
export type Unpacked =
  | { readonly kind: "text"; readonly text: string }
  | { readonly kind: "not-packed" | "too-large" | "not-whole" | "not-text" };

const CHECK_BYTES = 4;
// A piece of this size cannot become more than some 66 KB, so a hostile one is noticed before it fills the memory.
const PIECE = 64;

/** A text made short for an address: its bytes deflated, a check of them before, in the letters of base64url. */
export function pack(text: string): string {
  const bytes = new TextEncoder().encode(text);
  const squeezed = deflateSync(bytes, { level: 9 });
  const whole = new Uint8Array(CHECK_BYTES + squeezed.length);
  new DataView(whole.buffer).setUint32(0, check(bytes));
  whole.set(squeezed, CHECK_BYTES);
  return toLetters(whole);
}

/** The text again, at most 256 KB of it; a letter lost or changed on the way is noticed. */
export function unpack(letters: string): Unpacked {
  const whole = fromLetters(letters);
  if (whole === null || whole.length <= CHECK_BYTES) return { kind: "not-packed" };
  const bytes = inflate(whole.subarray(CHECK_BYTES));
  if (!(bytes instanceof Uint8Array)) return { kind: bytes };
  if (new DataView(whole.buffer).getUint32(0) !== check(bytes)) return { kind: "not-whole" };
  try {
    return { kind: "text", text: new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes) };
  } catch {
    return { kind: "not-text" };
  }
}

function inflate(squeezed: Uint8Array): Uint8Array | "too-large" | "not-whole" {
  const pieces: Uint8Array[] = [];
  let size = 0;
  const inflater = new Inflate((piece) => {
    size += piece.length;
    pieces.push(piece);
  });
  try {
    for (let from = 0; from < squeezed.length; from += PIECE) {
      const to = from + PIECE;
      inflater.push(squeezed.slice(from, to), to >= squeezed.length);
      if (size > LARGEST_TEXT) return "too-large";
    }
  } catch {
    return "not-whole";
  }
  const bytes = new Uint8Array(size);
  let at = 0;
  for (const piece of pieces) {
    bytes.set(piece, at);
    at += piece.length;
  }
  return bytes;
}

// Deflate has no check of its own. FNV-1a with 32 bits, RFC 9923.
function check(bytes: Uint8Array): number {
  let sum = 0x811c9dc5;
  for (const byte of bytes) sum = Math.imul(sum ^ byte, 0x01000193);
  return sum >>> 0;
}

function toLetters(bytes: Uint8Array): string {
  let characters = "";
  for (const byte of bytes) characters += String.fromCharCode(byte);
  return btoa(characters)
    .replaceAll("+", "-")
    .replaceAll("/", "_")
    .replace(/={1,2}$/, "");
}

function fromLetters(letters: string): Uint8Array<ArrayBuffer> | null {
  if (!/^[A-Za-z0-9_-]*$/.test(letters) || letters.length % 4 === 1) return null;
  const characters = atob(letters.replaceAll("-", "+").replaceAll("_", "/"));
  const bytes = Uint8Array.from(characters, (character) => character.charCodeAt(0));
  // The last letter may carry bits that no byte uses: one text, one spelling.
  return toLetters(bytes) === letters ? bytes : null;
}
