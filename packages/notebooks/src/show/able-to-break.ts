import { type Finding, type FuseFindings, findPart, type Verdict } from "@railfault/sim";

const BREAKING = new Set(["available short-circuit current", "largest current of the run"]);

/** Alternating current goes out by itself a hundred times a second: what is known for it alone says nothing of direct current. */
export const alternatingOnly = (source: string): boolean => /\bAC\b/.test(source) && !/\bDC\b/.test(source);

/** What the verdict finds of a fuse's breaking capacity; undefined: nothing, as where the fuse is whole. */
function dutyOf(verdict: Verdict, { subject: { part, owner } }: FuseFindings): Finding | undefined {
  if (verdict.kind !== "verdict") return undefined;
  return verdict.findings.find(
    ({ subject, quantity }) =>
      BREAKING.has(quantity) && subject.startsWith(part) && (part === "main fuse" || subject.endsWith(owner)),
  );
}

/**
 * Whether a fuse is able to break what it faces, as the verdict finds it: in a run in which that fuse cannot melt, where one was made.
 *
 * @returns null: not known for direct current, or it had nothing to break
 * @example ableToBreak(answer.verdict, answer.run.fuses[0])
 */
export function ableToBreak(verdict: Verdict, fuse: FuseFindings): boolean | null {
  const duty = dutyOf(verdict, fuse);
  if (duty === undefined || duty.rating === null) return null;
  if (duty.severity !== "ok") return false;
  const source = findPart("fuse", fuse.label)?.values.breakingCapacity?.source ?? "";
  return alternatingOnly(source) ? null : true;
}
