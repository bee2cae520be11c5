import type { Run } from "../../model/result.ts";
import { clampsOf } from "../clamp.ts";
import { barsOf } from "../crowbar.ts";
import { lastCurrent } from "../look.ts";
import { longTime, partName, show, the } from "../words.ts";

/** Less is no current that a terminal could not be pulled under, A (assumed). */
export const MUCH = 1;

/** A protector that carries a current when the run ends. */
export interface Flow {
  /** `the failed SCR of the crowbar`, `the clamp`. */
  readonly through: string;
  /** A. */
  readonly current: number;
  readonly failed: boolean;
}

/** What carries a current that counts when the run ends: SCRs, failed or not, and clamps, the line's first. */
export function flowsAtEnd(run: Run): readonly Flow[] {
  const bars = barsOf(run).map(({ subject, found, endCurrent }) => ({
    through: `the ${found.failedShort ? "failed " : ""}SCR of ${the(subject)}`,
    current: found.conductingAtEnd || found.failedShort ? (endCurrent ?? 0) : 0,
    failed: found.failedShort,
  }));
  const clamps = clampsOf(run).map(({ subject, column, found }) => ({
    through: found.failedShort ? `the failed ${subject}` : the(subject),
    current: lastCurrent(run, column) ?? 0,
    failed: found.failedShort,
  }));
  return [...bars, ...clamps].filter(({ current }) => current >= MUCH);
}

/** Batteries that feed such a current when the run ends: no switch ends that. */
export const feedingBatteries = (run: Run): readonly string[] =>
  flowsAtEnd(run).length === 0
    ? []
    : run.scenario.sources.flatMap(({ name, kind }) =>
        kind === "battery" && (lastCurrent(run, name) ?? 0) >= MUCH ? [name] : [],
      );

/** What flows through protectors that failed short when the run ends, a sentence for each. */
export function stillThrough(run: Run): readonly string[] {
  const next = run.fuses
    .flatMap(({ subject, meltTime, meltsAfter }) =>
      meltTime === null && meltsAfter !== null ? [{ subject, meltsAfter }] : [],
    )
    .toSorted((a, b) => a.meltsAfter - b.meltsAfter)
    .at(0);
  const end =
    next === undefined
      ? "and nothing in the line ends that"
      : `and by estimate ${the(partName(next.subject))} melts only ${longTime(next.meltsAfter)} later`;
  return flowsAtEnd(run)
    .filter(({ failed }) => failed)
    .map(({ through, current }) => `${show(current, "current")} flow through ${through} when the run ends, ${end}.`);
}
