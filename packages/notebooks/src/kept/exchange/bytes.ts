import { grouped, type Problem, problem, sizeText } from "../problem.ts";

/** What a file's first bytes say that it is, where that helps more than "not text". */
const KINDS: readonly (readonly [start: readonly number[], what: string, hint: string])[] = [
  [[0x50, 0x4b, 0x03, 0x04], "a packed folder (ZIP) or an office file", "Unpack it and open one scenario at a time."],
  [[0x25, 0x50, 0x44, 0x46], "a PDF document", "Open the scenario file it was made from."],
  [[0x89, 0x50, 0x4e, 0x47], "a picture (PNG)", "Open the scenario file it was made from."],
  [[0xff, 0xd8, 0xff], "a picture (JPEG)", "Open the scenario file it was made from."],
  [[0xff, 0xfe], "text in UTF-16", "Save it once more as UTF-8."],
  [[0xfe, 0xff], "text in UTF-16", "Save it once more as UTF-8."],
];

/** The text that bytes hold, byte order mark and line ends as they are, or why they hold none. */
export function textOfBytes(bytes: Uint8Array, where: string): string | Problem {
  const kind = KINDS.find(([start]) => start.every((byte, at) => bytes[at] === byte));
  const allowed = "text in UTF-8";
  if (kind !== undefined) return problem("wrong-kind", where, `This is ${kind[1]}.`, { allowed, hint: kind[2] });
  const zero = bytes.indexOf(0);
  if (zero >= 0) return binary(where, "This is no text: a zero stands", bytes, zero);
  try {
    return new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return binary(where, "This is no text in UTF-8: it breaks off", bytes, brokenAt(bytes));
  }
}

function binary(where: string, message: string, bytes: Uint8Array, at: number): Problem {
  const line = bytes.subarray(0, at).reduce((count, byte) => (byte === 0x0a ? count + 1 : count), 1);
  const value = `0x${bytes[at].toString(16).toUpperCase().padStart(2, "0")}`;
  return problem("wrong-kind", where, `${message} at byte ${grouped(at + 1)}, line ${grouped(line)}.`, {
    received: `${value} in a file of ${sizeText(bytes.length)}`,
    allowed: "text in UTF-8",
    hint: "Open a scenario file, or save it once more as UTF-8.",
  });
}

/** Index of the first byte that no text in UTF-8 can have at its place (Unicode, table 3-7); the length if there is none. */
export function brokenAt(bytes: Uint8Array): number {
  let at = 0;
  while (at < bytes.length) {
    const lead = bytes[at];
    const more = lead < 0x80 ? 0 : lead < 0xc2 ? -1 : lead < 0xe0 ? 1 : lead < 0xf0 ? 2 : lead < 0xf5 ? 3 : -1;
    if (more < 0) return at;
    for (let step = 1; step <= more; step += 1) {
      const byte = bytes[at + step];
      const low = step > 1 ? 0x80 : lead === 0xe0 ? 0xa0 : lead === 0xf0 ? 0x90 : 0x80;
      const high = step > 1 ? 0xbf : lead === 0xed ? 0x9f : lead === 0xf4 ? 0x8f : 0xbf;
      if (byte === undefined || byte < low || byte > high) return at;
    }
    at += more + 1;
  }
  return at;
}
