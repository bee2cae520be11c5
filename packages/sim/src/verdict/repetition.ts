import type { Run } from "../model/result.ts";
import { barsOf } from "./crowbar.ts";
import { endOf } from "./look.ts";
import { when } from "./when.ts";
import { capital, counted, duration, longTime, partName, show, the } from "./words.ts";

/** What was leapt over in a run, what it came to by its end, and why nothing was leapt over where that was tried. */
export function repetitionNotes(run: Run): readonly string[] {
  const { leaps, refusal } = run.repetition;
  const last = leaps.at(-1);
  if (last !== undefined) {
    const rounds = leaps.reduce((sum, leap) => sum + leap.rounds, 0);
    const each = `each like the one before, in the end every ${duration(last.period)}`;
    return [
      `${capital(counted(rounds, "round"))}, ${each}, were worked out at once and not one by one; what is said of this run includes them.`,
      ...reached(run),
    ];
  }
  return refusal === null ? [] : [`Every round of this run was integrated one by one: ${refusal}.`];
}

/** Where junctions and fuses stand at the end of a run long enough to tell: computed, not estimated. */
function reached(run: Run): readonly string[] {
  const junctions = barsOf(run).flatMap(({ subject, found, spec }) => {
    if (found.firings.length === 0 || found.failedShort) return [];
    const limit = show(spec.ratings.junctionTemperature, "temperature");
    return [
      `the junction of ${the(subject)} had reached ${show(found.peakTemperature.value, "temperature")} (limit ${limit})`,
    ];
  });
  const fuses = run.fuses.flatMap(({ subject, state, peakTheta }) =>
    state === "intact"
      ? [`${the(partName(subject))} had come ${show(peakTheta, "ratio")} of the way to melting at its peaks`]
      : [],
  );
  const all = [...junctions, ...fuses];
  if (all.length === 0) return [];
  return [`Computed, ${when(run.scenario, endOf(run), longTime)}: ${all.join("; ")}.`];
}
