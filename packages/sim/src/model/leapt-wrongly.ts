import type { Run } from "./result.ts";

/** Whether a run failed because rounds were leapt over: one that integrates every round may not. */
export function leaptWrongly({ outcome, repetition }: Run): boolean {
  return outcome.failure !== null && repetition.leaps.length > 0;
}
