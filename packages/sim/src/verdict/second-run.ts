import type { Run } from "../model/result.ts";
import { type RunOptions, simulate } from "../model/run.ts";
import type { Prospective } from "./fuses.ts";

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
    const subject = run.fuses[index]?.subject;
    if (subject === undefined) return null;
    const { samples: _, ...same } = options;
    const second = simulate(run.scenario, { ...same, record: false, unclearing: subject });
    return second.outcome.failure === null ? (second.fuses[index]?.peakCurrent ?? null) : null;
  };
}
