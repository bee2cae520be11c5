import type { FuseFindings, Run } from "../model/result.ts";
import { restarts } from "./sources.ts";

/**
 * Of the fuses that melt if the last currents go on, the first that takes all current from a place: the lead or clamp of `owner`, or (empty) the line.
 * One of several sources takes nothing away that another would not give.
 */
export function endingFuse(run: Run, owner: string): { readonly found: FuseFindings; readonly after: number } | null {
  const { sources } = run.scenario;
  const only = sources.length === 1 ? sources[0].name : null;
  const isSource = sources.some(({ name }) => name === owner);
  const ends = run.fuses.flatMap((found) => {
    const { subject, meltsAfter } = found;
    const onTheWay =
      subject.part === "main fuse" ? !isSource || only !== null : subject.owner === owner || subject.owner === only;
    return meltsAfter !== null && onTheWay ? [{ found, after: meltsAfter }] : [];
  });
  return ends.toSorted((a, b) => a.after - b.after)[0] ?? null;
}

/** Whether the last currents of a run may be taken as lasting: nothing goes on and off when it ends. */
export function isSteady(run: Run, trips: boolean): boolean {
  return !trips && run.sources.every(({ name }) => restarts(run, name)?.goesOn !== true);
}
