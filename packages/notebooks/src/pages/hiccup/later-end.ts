import type { Cycling, Run } from "@railfault/sim";

/** What a line that goes on tripping comes to in the end: an estimate. */
export interface LaterEnd {
  /** What gives in first. */
  readonly what: "fuse" | "SCR";
  /** s after the fault. */
  readonly after: number;
}

const NEVER = Number.POSITIVE_INFINITY;

/** The first fuse that melts, or the first SCR that gets hotter than it is rated; null where neither ever does. */
export function laterEndOf(run: Run): LaterEnd | null {
  const { crowbar, seriesSwitch, ownCrowbars, scenario } = run;
  const bars = [...(crowbar === null ? [] : [crowbar]), ...ownCrowbars.map(({ findings }) => findings)];
  const estimates = [...bars, ...(seriesSwitch === null ? [] : [seriesSwitch])].map(({ cycling }) => cycling);
  const melts = Math.min(NEVER, ...estimates.flatMap(meltTimes));
  const limits = [
    scenario.crowbar,
    ...ownCrowbars.map(({ source }) => {
      const supply = scenario.sources.find(({ name }) => name === source);
      return supply?.kind === "supply" ? supply.ownCrowbar : null;
    }),
  ].flatMap((spec) => (spec === null ? [] : [spec.ratings.junctionTemperature]));
  const hot = Math.min(
    NEVER,
    ...bars.map((bar, i) => {
      const long = bar.cycling?.longRun;
      if (long == null) return NEVER;
      // A limit that was passed while the line was watched is no estimate.
      if (bar.peakTemperature.value > limits[i]) return bar.peakTemperature.time;
      return (bar.firings.at(-1) ?? 0) + Math.min(long.timeToPeakLimit ?? NEVER, long.timeToJunctionLimit ?? NEVER);
    }),
  );
  const first = Math.min(melts, hot);
  if (first === NEVER) return null;
  return { what: melts <= hot ? "fuse" : "SCR", after: Math.max(0, first - scenario.faultTime) };
}

function meltTimes(cycling: Cycling | null): readonly number[] {
  return cycling?.longRun?.fuses.map(({ meltTime }) => meltTime ?? NEVER) ?? [];
}
