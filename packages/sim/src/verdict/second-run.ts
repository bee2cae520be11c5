import type { Run } from "../model/result.ts";
import { type RunOptions, Simulation } from "../model/run.ts";
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
    const first = whole(unmelting(run, index, options));
    const second =
      first !== null && leaptWrongly(first) ? whole(unmelting(run, index, { ...options, leaps: false })) : first;
    return second === null ? null : availableCurrent(second, index);
  };
}

/** Whether a run failed because rounds were leapt over: one that integrates every round may not. */
export function leaptWrongly({ outcome, repetition }: Run): boolean {
  return outcome.failure !== null && repetition.leaps.length > 0;
}

function whole(simulation: Simulation | null): Run | null {
  if (simulation === null) return null;
  while (simulation.advance(100_000) === "running");
  return simulation.result();
}

/** The fuses that a verdict asks about, by their index in the run. */
export function meltedFuses(run: Run): number[] {
  return [...run.fuses.keys()].filter((index) => {
    const found = run.fuses[index];
    return found.meltTime !== null && fuseSpec(run, found) !== null;
  });
}

/** The second run for one fuse, not yet begun; null where there is no such fuse. */
function unmelting(run: Run, index: number, options: RunOptions): Simulation | null {
  const subject = run.fuses[index]?.subject;
  if (subject === undefined) return null;
  const { samples: _, ...same } = options;
  return new Simulation(run.scenario, { ...same, record: false, unclearing: subject });
}

/** What a finished second run tells of its fuse, A; null where it failed. */
function availableCurrent(second: Run, index: number): number | null {
  return second.outcome.failure === null ? (second.fuses[index]?.peakCurrent ?? null) : null;
}
