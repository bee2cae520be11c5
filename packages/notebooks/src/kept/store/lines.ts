import { type Problem, problem } from "../problem.ts";
import { LONGEST_NAME, textProblem, tidyName } from "../words.ts";
import { damaged, type Entry, entryOf, type LineRecord, lineFrom, nameOfDamaged, nextRevision } from "./records.ts";
import type { Tables } from "./tables.ts";

/** What became of a wish; a problem says why nothing changed. */
export interface Refusal {
  readonly kind: "problem";
  readonly problem: Problem;
}

/** The name is taken; `entry` is null when what has it is damaged. */
export interface Taken {
  readonly kind: "exists";
  readonly entry: Entry | null;
}

export interface SaveOptions {
  /** Whether a line of the same name may be replaced; the person was asked. */
  readonly overwrite?: boolean;
  /**
   * What was read or saved last and the text was made from. Saving it again under its name asks nothing; a save of
   * another tab since then is noticed and kept aside.
   */
  readonly basedOn?: Pick<Entry, "name" | "revision">;
}

/** `aside` is where somebody else's version of the same name was kept, or null when there was none. */
export type Saved = { readonly kind: "saved"; readonly entry: Entry; readonly aside: Entry | null } | Refusal | Taken;
export type Renamed = { readonly kind: "renamed"; readonly entry: Entry } | Refusal | Taken;
export type Read = { readonly kind: "read"; readonly entry: Entry; readonly text: string } | Refusal;
/** `text` is what was removed, to bring it back; null when it was damaged. */
export type Removed = { readonly kind: "removed"; readonly text: string | null } | Refusal;

export interface Listing {
  /** Last changed first. */
  readonly entries: readonly Entry[];
  /** Damaged lines and why nothing could be listed. */
  readonly problems: readonly Problem[];
}

export async function listLines(tables: Tables): Promise<Listing> {
  const entries: Entry[] = [];
  const problems: Problem[] = [];
  for (const record of await tables.all("lines")) {
    const line = lineFrom(record);
    if (line === null) problems.push(damaged(nameOfDamaged(record)));
    else entries.push(entryOf(line));
  }
  const byName = new Intl.Collator("en").compare;
  entries.sort((a, b) => b.changed_ms - a.changed_ms || byName(a.name, b.name));
  return { entries, problems };
}

export async function readLine(tables: Tables, name: string): Promise<Read> {
  const record = await tables.get("lines", name);
  const line = lineFrom(record);
  if (line !== null) return { kind: "read", entry: entryOf(line), text: line.text };
  return { kind: "problem", problem: record === undefined ? notThere(name) : damaged(name) };
}

export async function saveLine(
  tables: Tables,
  wished: string,
  text: string,
  now_ms: number,
  { overwrite = false, basedOn }: SaveOptions,
): Promise<Saved> {
  const named = tidyName(wished);
  if (named.kind === "problem") return named;
  const { name } = named;
  const found = textProblem(text, name);
  if (found !== null) return { kind: "problem", problem: found };
  const record = await tables.get("lines", name);
  const there = lineFrom(record);
  if (there?.text === text) return { kind: "saved", entry: entryOf(there), aside: null };
  const isOwn = there !== null && basedOn?.name === name;
  const changedSince = isOwn && there.revision !== basedOn.revision;
  const mayReplace = record === undefined || overwrite || isOwn;
  if (!mayReplace) return { kind: "exists", entry: there === null ? null : entryOf(there) };
  const aside = changedSince ? await keepAside(tables, there) : null;
  const line: LineRecord = { name, text, changed_ms: now_ms, revision: await nextRevision(tables) };
  await tables.put("lines", line);
  return { kind: "saved", entry: entryOf(line), aside };
}

export async function renameLine(tables: Tables, from: string, wished: string): Promise<Renamed> {
  const named = tidyName(wished);
  if (named.kind === "problem") return named;
  const read = await readLine(tables, from);
  if (read.kind === "problem") return read;
  const { entry, text } = read;
  if (named.name === from) return { kind: "renamed", entry };
  const taken = await tables.get("lines", named.name);
  if (taken !== undefined) {
    const line = lineFrom(taken);
    return { kind: "exists", entry: line === null ? null : entryOf(line) };
  }
  const { changed_ms } = entry;
  const line: LineRecord = { name: named.name, text, changed_ms, revision: await nextRevision(tables) };
  await tables.put("lines", line);
  await tables.remove("lines", from);
  return { kind: "renamed", entry: entryOf(line) };
}

export async function removeLine(tables: Tables, name: string): Promise<Removed> {
  const record = await tables.get("lines", name);
  if (record === undefined) return { kind: "problem", problem: notThere(name) };
  await tables.remove("lines", name);
  return { kind: "removed", text: lineFrom(record)?.text ?? null };
}

async function keepAside(tables: Tables, line: LineRecord): Promise<Entry> {
  const base = line.name.replace(/ \(\d{1,6}\)$/, "");
  for (let number = 2; ; number += 1) {
    const suffix = ` (${number})`;
    const name = `${Array.from(base)
      .slice(0, LONGEST_NAME - suffix.length)
      .join("")
      .trim()}${suffix}`;
    if ((await tables.get("lines", name)) !== undefined) continue;
    const copy: LineRecord = { ...line, name, revision: await nextRevision(tables) };
    await tables.put("lines", copy);
    return entryOf(copy);
  }
}

function notThere(name: string): Problem {
  return problem("not-there", name, "No line of this name is kept here.", {
    hint: "It may have been renamed or deleted in another tab.",
  });
}
