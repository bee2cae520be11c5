import type { Run } from "../model/result.ts";
import { type RunOptions, simulate } from "../model/run.ts";
import { fuseSpec, type Prospective } from "./fuses.ts";

/**
 * Finds a melted fuse's available short-circuit current, A: the largest current through it in a second run in which it cannot melt.
 * Gives null where that run fails. One more whole run for each melted fuse: not for sweeps. `ScenarioRun` has it for less: up to the melting
 * both runs are one and the same, so it goes on from there.
 *
 * @param run the first run
 * @param options those of the first run; samples and waveforms are left out
 *
 * @example judge(run, { warnings, origins, prospective: bySecondRun(run, {}) })
 */
export function bySecondRun(run: Run, options: RunOptions): Prospective {
  return (index) => {
    const subject = run.fuses[index]?.subject;
    if (subject === undefined) return null;
    const { samples: _, ...same } = options;
    return availableCurrent(simulate(run.scenario, { ...same, record: false, unclearing: subject }), index);
  };
}

/** The fuses that a verdict asks about, by their index in the run. */
export function meltedFuses(run: Run): number[] {
  return [...run.fuses.keys()].filter((index) => {
    const found = run.fuses[index];
    return found.meltTime !== null && fuseSpec(run, found) !== null;
  });
}

/** What a finished second run tells of its fuse, A; null where it failed. */
function availableCurrent(second: Run, index: number): number | null {
  return second.outcome.failure === null ? (second.fuses[index]?.peakCurrent ?? null) : null;
}
