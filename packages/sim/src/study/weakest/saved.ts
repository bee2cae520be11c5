import { InvalidInput } from "../../issue/issue.ts";
import type { MatchOptions, Outcome, SavedMatch } from "./types.ts";

/** A short name for a file with its options (FNV-1a, 64 bits in two halves): the same question has the same key. */
export function keyOf(text: string, { load, drop, fuses, scrs, wires }: MatchOptions): string {
  const all = `${JSON.stringify([load, drop, fuses, scrs, wires])}\n${text}`;
  let [a, b] = [0x811c9dc5, 0xcbf29ce4];
  for (let i = 0; i < all.length; i++) {
    a = Math.imul(a ^ all.charCodeAt(i), 0x01000193);
    b = Math.imul(b ^ (all.charCodeAt(i) + i), 0x01000193);
  }
  return [a, b].map((half) => (half >>> 0).toString(16).padStart(8, "0")).join("");
}

/**
 * The outcomes of an earlier study; none where there is no earlier one.
 *
 * @throws InvalidInput where they are of another file, of other options, or no outcomes at all
 */
export function resumed(saved: SavedMatch | undefined, key: string): readonly Outcome[] {
  if (saved === undefined) return [];
  const refuse = (message: string, received: string, allowed: string): InvalidInput =>
    new InvalidInput([
      {
        severity: "error",
        code: "cannot-resume",
        path: "resume",
        message,
        received,
        allowed,
        hint: "begin anew",
        position: null,
      },
    ]);
  const found: unknown = saved;
  const known =
    typeof found === "object" && found !== null && "format" in found && found.format === "railfault match 1";
  if (!known || !Array.isArray(saved.outcomes) || !saved.outcomes.every(isOutcome))
    throw refuse("This is not what an earlier study kept.", "something else", "what a study of this version kept");
  if (saved.key !== key) throw refuse("What was kept is of another file or of other options.", String(saved.key), key);
  return saved.outcomes;
}

function isOutcome(value: unknown): value is Outcome {
  if (typeof value !== "object" || value === null) return false;
  const { id, sound, reasons, notes } = value as Partial<Outcome>;
  return typeof id === "string" && typeof sound === "boolean" && Array.isArray(reasons) && Array.isArray(notes);
}
