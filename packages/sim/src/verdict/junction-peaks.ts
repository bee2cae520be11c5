import type { LongRun } from "../model/result.ts";
import { show } from "./words.ts";

/**
 * What the mean heat of a cycle hides in an estimate: each trip's own peak of the junction, as a sentence; none where it hardly swings.
 * @param limit of the junction, in words
 * @param when says a time since the last firing, s; null: that lies within the run
 */
export function junctionPeaks(
  { swing, timeToPeakLimit, restTemperature }: LongRun,
  limit: string,
  when: (time: number) => string | null,
): readonly string[] {
  if (!(swing >= 1)) return [];
  const start = `Within each trip it goes about ${swing.toFixed(0)} K above that average`;
  if (timeToPeakLimit === null)
    return [`${start}: its peaks settle at ${show(restTemperature + swing, "temperature")}, below the limit.`];
  const later = timeToPeakLimit === 0 ? null : when(timeToPeakLimit);
  const then = later === null ? "already in this run" : `about ${later}`;
  return [`${start}: its peaks pass the limit of ${limit} ${then}.`];
}
