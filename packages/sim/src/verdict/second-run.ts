import type { Run } from "../model/result.ts";
import { type RunOptions, Simulation } from "../model/run.ts";
import { fuseSpec, type Prospective } from "./fuses.ts";

/**
 * Finds a melted fuse's available short-circuit current, A: the largest current through it in a second run in which it cannot melt.
 * Gives null where that run fails. One more whole run for each melted fuse: not for sweeps.
 *
 * @param run the first run
 * @param options those of the first run; samples and waveforms are left out
 *
 * @example judge(run, { warnings, origins, prospective: bySecondRun(run, {}) })
 */
export function bySecondRun(run: Run, options: RunOptions): Prospective {
  return (index) => {
    const second = unmelting(run, index, options);
    if (second === null) return null;
    while (second.advance(100_000) === "running");
    return availableCurrent(second.result(), index);
  };
}

/** The fuses that a verdict asks about, by their index in the run. */
export function meltedFuses(run: Run): number[] {
  return [...run.fuses.keys()].filter((index) => {
    const found = run.fuses[index];
    return found.meltTime !== null && fuseSpec(run, found) !== null;
  });
}

/** The second run for one fuse, not yet begun; null where there is no such fuse. */
export function unmelting(run: Run, index: number, options: RunOptions): Simulation | null {
  const subject = run.fuses[index]?.subject;
  if (subject === undefined) return null;
  const { samples: _, ...same } = options;
  return new Simulation(run.scenario, { ...same, record: false, unclearing: subject });
}

/** What a finished second run tells of its fuse, A; null where it failed. */
export function availableCurrent(second: Run, index: number): number | null {
  return second.outcome.failure === null ? (second.fuses[index]?.peakCurrent ?? null) : null;
}
