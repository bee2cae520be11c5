/** What went wrong with something that a person brought or wanted kept, in words for the page. */
export interface Problem {
  /** Stable, lower-case, hyphenated: `too-long`, `storage-full` … */
  readonly code: string;
  /** Where it is: a part of the address, a file, a name. */
  readonly where: string;
  /** A whole sentence without the place. */
  readonly message: string;
  /** What was there, shortened, with invisible characters spelled out; null where nothing was. */
  readonly received: string | null;
  /** What may be there; null where the message says all. */
  readonly allowed: string | null;
  /** What to do; null where nothing helps. */
  readonly hint: string | null;
}

/** A problem from what is known of it. `received` is made safe to show. */
export function problem(
  code: string,
  where: string,
  message: string,
  more: { readonly received?: string; readonly allowed?: string; readonly hint?: string } = {},
): Problem {
  return {
    code,
    where: shown(where),
    message,
    received: more.received === undefined ? null : shown(more.received),
    allowed: more.allowed ?? null,
    hint: more.hint ?? null,
  };
}

/**
 * A problem as one line of plain text.
 *
 * @example problemText(p) // "main fuse: This stands twice. Received: a, b. Allowed: once."
 */
export function problemText({ where, message, received, allowed, hint }: Problem): string {
  const parts = [`${where}: ${message}`];
  if (received !== null) parts.push(`Received: ${received}.`);
  if (allowed !== null) parts.push(`Allowed: ${allowed}.`);
  if (hint !== null) parts.push(hint);
  return parts.join(" ");
}

const LONGEST_SHOWN = 60;
const INVISIBLE = /[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]/gu;

/**
 * A stranger's text as it may be shown in a message: at most 60 characters, and whatever cannot be seen (controls, marks
 * that turn the reading direction, halves of characters) as its number.
 *
 * @example shown("a\u202eb") // "a\\u{202E}b"
 */
export function shown(text: string): string {
  // Cut first: a hostile text may be megabytes long.
  const start = Array.from(text.slice(0, 2 * LONGEST_SHOWN))
    .slice(0, LONGEST_SHOWN)
    .join("");
  const visible = spelledOut(start);
  return start.length < text.length ? `${visible}… (${grouped(text.length)} characters)` : visible;
}

/** A text with all that cannot be seen in it as its number, as in `shown`, at full length. */
export function spelledOut(text: string): string {
  return text.replace(INVISIBLE, (character) => {
    const code = character.codePointAt(0) ?? 0;
    return `\\u{${code.toString(16).toUpperCase().padStart(4, "0")}}`;
  });
}

/** A whole number with thin gaps between its thousands. */
export function grouped(count: number): string {
  return count.toLocaleString("en").replaceAll(",", "\u202f");
}

/** A size in bytes, kilobytes or megabytes of 1024, rounded up, as a person reads it. */
export function sizeText(bytes: number): string {
  if (bytes < 1024) return `${bytes} bytes`;
  if (bytes < 1024 * 1024) return `${grouped(Math.ceil(bytes / 1024))} KB`;
  return `${(Math.ceil((bytes * 10) / (1024 * 1024)) / 10).toString()} MB`;
}
