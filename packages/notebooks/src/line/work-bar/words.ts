import { grouped, spelledOut } from "../../kept/problem.ts";
import { shippedLines } from "../shipped.ts";

const LONGEST = 160;

/** A stranger's title or name as it may be shown: what cannot be seen is spelled out, and it ends somewhere. */
export function shownTitle(text: string): string {
  // Cut first: a hostile text may be megabytes long.
  const start = Array.from(text.slice(0, 2 * LONGEST))
    .slice(0, LONGEST)
    .join("");
  return start.length < text.length ? `${spelledOut(start)}…` : spelledOut(start);
}

/** A number of things: "1 change", "3 changes". */
export function counted(count: number, thing: string): string {
  return `${grouped(count)} ${thing}${count === 1 ? "" : "s"}`;
}

/** A moment as a person reads it: "3 Mar 2026, 14:05". */
export function whenText(time_ms: number): string {
  return new Intl.DateTimeFormat("en-GB", { dateStyle: "medium", timeStyle: "short" }).format(time_ms);
}

/**
 * The file that is handed out. Lines that come with the pages answer their question in their first comments: of a changed one that answer may no
 * longer be true, and its first line says so, under whatever name it was kept and however it was changed.
 */
export function fileText(text: string): string {
  const from = shippedLines.find((line) => text.startsWith(opening(line.text)));
  if (from === undefined || values(text) === values(from.text)) return text;
  return `# Changed from the line ${from.name}: what the comments below answer is the answer of that one.\n${text}`;
}

/** The comments that a file begins with. */
const opening = (text: string): string => /^(?:#.*\n)+/.exec(text)?.[0] ?? "\0";

/** A file without its remarks. */
const values = (text: string): string => text.replace(/^\s*(?:#.*)?$\n?/gm, "").trim();
