import type { Cycling, Run } from "@railfault/sim";
import { barsOf } from "./bars.ts";

/** What a line that goes on tripping comes to in the end. */
export interface LaterEnd {
  /** What gives in first. */
  readonly what: "fuse" | "SCR";
  /** s after the fault. */
  readonly after: number;
  /** Whether it happened in the run; else it is an estimate. */
  readonly found: boolean;
}

const NEVER = Number.POSITIVE_INFINITY;

/** The first fuse that melts, or the first SCR that gets hotter than it is rated; null where neither ever does. */
export function laterEndOf(run: Run): LaterEnd | null {
  const { seriesSwitch, scenario } = run;
  const bars = barsOf(run);
  const estimates = [...bars.map(({ found }) => found), ...(seriesSwitch === null ? [] : [seriesSwitch])];
  const melts = Math.min(NEVER, ...estimates.flatMap(({ cycling }) => meltTimes(cycling)));
  const hot = Math.min(
    NEVER,
    ...bars.map(({ found, spec }) => {
      const long = found.cycling?.longRun;
      if (long == null || spec === null) return NEVER;
      if (found.junctionLimitTime !== null) return found.junctionLimitTime;
      return (found.firings.at(-1) ?? 0) + Math.min(long.timeToPeakLimit ?? NEVER, long.timeToJunctionLimit ?? NEVER);
    }),
  );
  const first = Math.min(melts, hot);
  if (first === NEVER) return null;
  const passed = bars.some(({ found }) => found.junctionLimitTime === first);
  return { what: melts <= hot ? "fuse" : "SCR", after: Math.max(0, first - scenario.faultTime), found: passed };
}

function meltTimes(cycling: Cycling | null): readonly number[] {
  return cycling?.longRun?.fuses.map(({ meltTime, peakMeltTime }) => peakMeltTime ?? meltTime ?? NEVER) ?? [];
}
