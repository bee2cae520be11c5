import type { Run } from "../../model/result.ts";
import { barsOf } from "../crowbar.ts";
import type { Finding, LoadVerdict, Pending } from "../types.ts";
import { backInService } from "./back-in-service.ts";
import { makeSafe } from "./make-safe.ts";
import { mend } from "./mend.ts";
import { inOrder, step } from "./order.ts";

/**
 * What must be done before the next use, in that order: make safe what still flows or stays live, find the fault, mend what it hurt, then the
 * fuses, then the resets, then back into service with the protector tried first. Empty where nothing happened.
 */
export function nextUse(
  run: Run,
  loads: readonly LoadVerdict[],
  findings: readonly Finding[],
  pending: readonly Pending[],
): readonly string[] {
  const mended = mend(run, loads, findings);
  const melted = run.fuses.filter(({ meltTime }) => meltTime !== null).length;
  if (mended.length === 0 && !acted(run) && pending.every(({ kind }) => kind !== "going on and off")) return [];
  const why = melted === 0 ? "switching on again" : melted === 1 ? "replacing the fuse" : "replacing the fuses";
  return inOrder([
    ...makeSafe(run, findings, pending),
    step("find", `Find the fault before ${why}.`),
    ...mended,
    ...backInService(run, findings),
  ]);
}

/** A protector or a limiter did something, or a load is left asleep. */
const acted = (run: Run): boolean =>
  barsOf(run).some(({ found }) => found.firings.length > 0) ||
  (run.seriesSwitch?.starts.length ?? 0) > 0 ||
  run.sources.some(({ stateAtEnd }) => stateAtEnd === "latched off") ||
  run.loads.some(({ sleepingAtEnd }) => sleepingAtEnd);
