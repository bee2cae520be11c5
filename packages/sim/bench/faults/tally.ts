import { judge, type Run, type RunEvent, type Scenario, simulate } from "../../src/index.ts";
import { energyCloses } from "../../src/verdict/basis.ts";
import { runOnce } from "../measure.ts";
import { readRanges, scenarioOfFault } from "./random-fault.ts";

/** Where a run and the same one at 1e-10 tell different events. */
export interface Difference {
  readonly seed: number;
  readonly what: string;
  /** What the verdict says about it; null: nothing, so nobody was warned. */
  readonly closeCall: string | null;
}

/** What became of some random faults. */
export interface Tally {
  readonly faults: number;
  /** In which a crowbar fired or a series switch opened. */
  readonly fired: number;
  /** Seeds of runs that could not go on, or whose energy did not close at the tight tolerance either. */
  readonly failed: readonly number[];
  /** Runs that were done once more at the tight tolerance because their energy did not close, as the command does it. */
  readonly finer: number;
  readonly steps: number;
  readonly rejected: number;
  readonly evaluations: number;
  readonly factorizations: number;
  readonly events: number;
  /** Time of the wall's clock spent in runs, and in reading the scenarios, ms. */
  readonly runMs: number;
  readonly readMs: number;
  /** Faults that were run at 1e-10 as well. */
  readonly compared: number;
  readonly differences: readonly Difference[];
}

const fires = new Set<RunEvent["kind"]>(["fires", "starts to open"]);
/** Events nearer to each other than this have no order that means anything, s. */
const INSTANT = 1e-9;
const FINE = 1e-10;

/** Runs the random faults with the given seeds, one after the other. */
export function tally(seeds: readonly number[], check: boolean): Tally {
  const ranges = readRanges();
  const failed: number[] = [];
  const differences: Difference[] = [];
  const sum = {
    fired: 0,
    finer: 0,
    steps: 0,
    rejected: 0,
    evaluations: 0,
    factorizations: 0,
    events: 0,
    runMs: 0,
    readMs: 0,
  };
  for (const seed of seeds) {
    const begin = performance.now();
    const scenario = scenarioOfFault(ranges, seed);
    const read = performance.now();
    const first = runOnce(scenario);
    const again = first.outcome.failure === null && !energyCloses(first);
    const run = again ? simulate(scenario, { record: false, tolerance: "tight" }) : first;
    sum.runMs += performance.now() - read;
    sum.readMs += read - begin;
    if (again) sum.finer++;
    if (run.outcome.failure !== null || !energyCloses(run)) failed.push(seed);
    if (run.events.some(({ kind }) => fires.has(kind))) sum.fired++;
    for (const key of ["steps", "rejected", "evaluations", "factorizations"] as const)
      sum[key] += first.work[key] + (again ? run.work[key] : 0);
    sum.events += run.events.length;
    if (check) differences.push(...differenceOf(seed, scenario, run));
  }
  return { faults: seeds.length, failed, differences, compared: check ? seeds.length : 0, ...sum };
}

/** What several threads found, together; the time is that of the longest. */
export function together(tallies: readonly Tally[]): Tally {
  const add = (pick: (tally: Tally) => number) => tallies.reduce((sum, each) => sum + pick(each), 0);
  const longest = (pick: (tally: Tally) => number) => Math.max(...tallies.map(pick));
  return {
    faults: add(({ faults }) => faults),
    fired: add(({ fired }) => fired),
    failed: tallies.flatMap(({ failed }) => failed),
    finer: add(({ finer }) => finer),
    steps: add(({ steps }) => steps),
    rejected: add(({ rejected }) => rejected),
    evaluations: add(({ evaluations }) => evaluations),
    factorizations: add(({ factorizations }) => factorizations),
    events: add(({ events }) => events),
    runMs: longest(({ runMs }) => runMs),
    readMs: longest(({ readMs }) => readMs),
    compared: add(({ compared }) => compared),
    differences: tallies.flatMap(({ differences }) => differences),
  };
}

function differenceOf(seed: number, scenario: Scenario, run: Run): Difference[] {
  const fine = simulate(scenario, { record: false, tolerance: FINE });
  const what = firstOther(story(run), story(fine));
  return what === null ? [] : [{ seed, what, closeCall: closeCall(run) ?? closeCall(fine) }];
}

/** The names of the events in their order, those of one instant in the order of the alphabet. */
function story({ events }: Run): string[] {
  const names: string[] = [];
  let instant: string[] = [];
  for (const { sincePrevious, subject, kind } of events) {
    if (sincePrevious > INSTANT) {
      names.push(...instant.sort());
      instant = [];
    }
    instant.push(`${subject.owner || subject.part}: ${kind}`);
  }
  return [...names, ...instant.sort()];
}

function firstOther(usual: readonly string[], fine: readonly string[]): string | null {
  const at = Array.from({ length: Math.max(usual.length, fine.length) }, (_, k) => k).find((k) => usual[k] !== fine[k]);
  return at === undefined ? null : `event ${at + 1} is ${usual[at] ?? "none"}, and ${fine[at] ?? "none"} at ${FINE}`;
}

function closeCall(run: Run): string | null {
  const verdict = judge(run, { warnings: [], origins: [], prospective: null });
  return verdict.kind === "verdict" ? (verdict.tooClose[0]?.sentence ?? null) : null;
}
