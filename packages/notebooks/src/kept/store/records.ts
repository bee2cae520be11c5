import { type Problem, problem } from "../problem.ts";
import { type PageState, stateFrom } from "../state.ts";
import { byteLength, nameProblem, textProblem } from "../words.ts";
import type { Tables } from "./tables.ts";

/** A kept line as the storage holds it. */
export interface LineRecord {
  readonly name: string;
  readonly text: string;
  readonly changed_ms: number;
  /** Grows with every save of any line; never used twice. */
  readonly revision: number;
}

/** What a page had in hand when it was last changed. */
export interface DraftRecord {
  readonly page: string;
  readonly tab: string;
  readonly state: PageState;
  readonly changed_ms: number;
}

/** A kept line without its text. */
export interface Entry {
  readonly name: string;
  /** When it was last saved, ms since 1970. */
  readonly changed_ms: number;
  /** Length of its text in bytes of UTF-8. */
  readonly bytes: number;
  /** Hand it back when saving, so that another tab's save is noticed. */
  readonly revision: number;
}

export function entryOf({ name, text, changed_ms, revision }: LineRecord): Entry {
  return { name, changed_ms, revision, bytes: byteLength(text) };
}

/** A kept line, or null when the record is damaged. */
export function lineFrom(record: unknown): LineRecord | null {
  const { name, text, changed_ms, revision } = fields(record);
  if (typeof name !== "string" || typeof text !== "string") return null;
  if (!isTime(changed_ms) || !isCount(revision)) return null;
  return nameProblem(name) === null && textProblem(text, "") === null ? { name, text, changed_ms, revision } : null;
}

/** A draft, or null when the record is damaged. */
export function draftFrom(record: unknown): DraftRecord | null {
  const { page, tab, state, changed_ms } = fields(record);
  const sound = stateFrom(state);
  if (typeof page !== "string" || typeof tab !== "string" || !isTime(changed_ms) || sound === null) return null;
  return { page, tab, state: sound, changed_ms };
}

/** The name that a damaged record still has. */
export function nameOfDamaged(record: unknown): string {
  const { name } = fields(record);
  return typeof name === "string" ? name : "kept line";
}

export function damaged(where: string): Problem {
  return problem("storage-damaged", where, "What was kept here is damaged and cannot be read.", {
    hint: "It stays where it is until you delete it or save over it.",
  });
}

/** A number that no save had before. */
export async function nextRevision(tables: Tables): Promise<number> {
  const counted = fields(await tables.get("counters", "revision")).count;
  const seen = isCount(counted) ? [counted] : (await tables.all("lines")).map((line) => lineFrom(line)?.revision ?? 0);
  const count = Math.max(0, ...seen) + 1;
  await tables.put("counters", { name: "revision", count });
  return count;
}

function fields(record: unknown): Record<string, unknown> {
  return typeof record === "object" && record !== null ? (record as Record<string, unknown>) : {};
}

function isTime(value: unknown): value is number {
  return typeof value === "number" && Number.isFinite(value) && Math.abs(value) <= 8.64e15;
}

function isCount(value: unknown): value is number {
  return Number.isSafeInteger(value) && (value as number) >= 0;
}
