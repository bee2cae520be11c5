import { InvalidInput } from "../../packages/sim/src/issue/issue.ts";
import type { Run, RunEvent } from "../../packages/sim/src/model/result.ts";
import { simulate } from "../../packages/sim/src/model/run.ts";
import type { Scenario } from "../../packages/sim/src/scenario/types.ts";
import { randomLine } from "./random-line.ts";

/** What a sound run never shows, in words; nothing where it is sound. */
export function violations(run: Run): string[] {
  const out: string[] = [];
  if (run.outcome.failure) out.push(`failed: ${run.outcome.failure.reason} at ${run.outcome.time} s`);
  if (!(run.energy.relative <= 1e-6)) out.push(`energyIn_eq_dissipated_plus_stored: ${run.energy.relative}`);
  for (const [name, heat] of Object.entries(run.energy.byDevice)) {
    if (!(heat >= -1e-9 * Math.max(1, run.energy.turnedOver))) out.push(`heat_is_never_negative: ${name} ${heat}`);
  }
  for (const { name, values } of run.trace.columns)
    if (!values.every(Number.isFinite)) out.push(`every_value_is_finite: ${name}`);
  if (run.trace.time.some((time, k) => k > 0 && time < run.trace.time[k - 1])) out.push("time_never_runs_back");
  return out;
}

const nameOf = ({ subject, kind }: RunEvent) => `${subject.owner}/${subject.part}: ${kind}`;

/** Where two runs of one line tell different stories; null where they agree to 0.1 % or 1 µs in every event's time since the one before. */
export function firstDifference(one: Run, other: Run): string | null {
  const count = Math.max(one.events.length, other.events.length);
  for (let k = 0; k < count; k++) {
    const [a, b] = [one.events[k], other.events[k]];
    if (!a || !b || nameOf(a) !== nameOf(b))
      return `event ${k}: ${a ? nameOf(a) : "none"} against ${b ? nameOf(b) : "none"}`;
    const allowed = Math.max(1e-3 * b.sincePrevious, 1e-6);
    if (Math.abs(a.sincePrevious - b.sincePrevious) > allowed)
      return `event ${k}: ${a.sincePrevious} s against ${b.sincePrevious} s`;
  }
  return null;
}

/** Runs seeded random lines and collects every violation with its seed; lines without a healthy operating point are counted apart. */
export function tryLines(from: number, to: number, check: (scenario: Scenario) => string[]) {
  const found: string[] = [];
  let refused = 0;
  let openAtFirst = 0;
  for (let seed = from; seed < to; seed++) {
    try {
      for (const violation of check(randomLine(seed))) {
        if (violation === "open at first") openAtFirst++;
        else found.push(`seed ${seed}: ${violation}`);
      }
    } catch (error) {
      if (!(error instanceof InvalidInput)) throw error;
      refused++;
    }
  }
  return { found, refused, openAtFirst };
}

/**
 * A sound run that tells the same story at both tolerances. Where the balance stays open at the default tolerance (a panel's knee passed in
 * one long step), the tight one must close it: that is what the command does too.
 */
export function soundAndAlike(scenario: Scenario): string[] {
  const run = simulate(scenario);
  // Every round as in the run with waveforms: what is worked out at once is another story, and has tests of its own.
  const tight = simulate(scenario, { tolerance: "tight", record: false, leaps: false });
  const difference = firstDifference(run, tight);
  const own =
    run.energy.relative <= 1e-6 ? violations(run) : [...violations({ ...run, energy: tight.energy }), "open at first"];
  return [...own, ...(difference === null ? [] : [`default against tight, ${difference}`])];
}
