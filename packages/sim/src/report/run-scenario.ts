import { InvalidInput, type Issue } from "../issue/issue.ts";
import type { FromMelting } from "../model/from-melting.ts";
import { leaptWrongly } from "../model/leapt-wrongly.ts";
import type { Run } from "../model/result.ts";
import { type RunOptions, Simulation } from "../model/run.ts";
import { FitMemory, parseScenario, placeIssues, type ScenarioResult, variantLines } from "../scenario/index.ts";
import { inTextOrder } from "../scenario/text/order.ts";
import type { Scenario } from "../scenario/types.ts";
import { energyCloses, noBasis } from "../verdict/basis.ts";
import { judge } from "../verdict/judge.ts";
import { meltedFuses } from "../verdict/second-run.ts";
import type { Verdict } from "../verdict/types.ts";
import { cutShort, nothingBefore, untilProblems } from "./cut-short.ts";

/** What is left of the options: those that a whole run from a text has no use for stay out. */
export interface ScenarioRunOptions
  extends Pick<RunOptions, "method" | "tolerance" | "until" | "record" | "leaps" | "maxSteps"> {
  /** Whether a second run tells a melted fuse's available short-circuit current (default true). */
  readonly secondRun?: boolean;
  /** Of earlier readings, where one file is run again and again with small changes. */
  readonly memory?: FitMemory;
  /** The text as it was read already: then it is not read again. */
  readonly parsed?: ScenarioResult;
  /** Gives problems of the complete scenario their place, where what was read does not stand in the text as it is. */
  readonly place?: (issues: readonly Issue[]) => readonly Issue[];
  /** Called now and then with the time reached and the end, s. */
  readonly progress?: (time: number, end: number) => void;
}

/** A scenario that could not be run: every problem with its place. */
export interface Refused {
  readonly kind: "refused";
  /** In the order of the text; at least one is an error. */
  readonly issues: readonly Issue[];
}

/** A scenario that was run; its verdict may still be `not a verdict`. */
export interface Answered {
  readonly kind: "answered";
  /** Complete, as it was read; `run.scenario` ends earlier where the run was asked to. */
  readonly scenario: Scenario;
  /** The file as it was read, with origins and fits. */
  readonly parsed: ScenarioResult;
  /** What the run found, with its waveforms where they were recorded. */
  readonly run: Run;
  /** What that means. */
  readonly verdict: Verdict;
}

/**
 * What a scenario run is at: its run, the same once more with a tighter tolerance where the energy balance asked for it,
 * or a further run that tells the current a melted fuse had to break.
 */
export type RunStage = "run" | "finer run" | "second run";

/**
 * The whole job, reading a scenario file, running and judging it, in pieces: it may be left after any number of steps,
 * taken up again, ended early or simply dropped. Never throws on bad input.
 *
 * @example
 * const job = new ScenarioRun(text, "hut.yaml");
 * while (job.advance(200) === "running") await somethingElse();
 * const answer = job.result();
 */
export class ScenarioRun {
  private readonly place: Placing;
  private readonly wantsSecondRun: boolean;
  private readonly parsed: ScenarioResult;
  private warnings: readonly Issue[] = [];
  /** Of the healthy line, which no text shows. */
  private ofLine: readonly Issue[] = [];
  private options: RunOptions;
  private at: RunStage = "run";
  private simulation: Simulation | null = null;
  private run: Run | null = null;
  /** The second run of the moment, for the first of the fuses that are left. */
  private secondRun: FromMelting | null = null;
  private fuses: number[] = [];
  private readonly available = new Map<number, number | null>();
  private answer: Refused | Answered | null = null;

  /**
   * Reads the file and finds the healthy operating point; nothing has run then.
   *
   * @param text of the file
   * @param file its name, for the places in messages
   * @param options how to run it; `progress` is not called here
   */
  constructor(text: string, file: string, options: ScenarioRunOptions = {}) {
    const { secondRun = true, progress: _, memory = new FitMemory(), parsed, place, ...runOptions } = options;
    this.wantsSecondRun = secondRun;
    this.options = { ...runOptions, noteMeltings: secondRun };
    this.parsed = parsed ?? parseScenario(text, file, memory);
    this.place = place ?? ((found) => placeIssues(found, text, file));
    const { scenario, issues } = this.parsed;
    if (scenario === null) {
      this.answer = { kind: "refused", issues };
      return;
    }
    const { refusal, warnings } = untilProblems(scenario, runOptions.until ?? null);
    this.warnings = warnings;
    const started = refusal === null ? startOf(scenario, this.place, this.options) : [refusal];
    if (started instanceof Simulation) {
      this.simulation = started;
      this.ofLine = this.place(started.warnings());
    } else this.answer = { kind: "refused", issues: refusal === null ? inTextOrder([...started, ...issues]) : started };
  }

  /** Whether there is an answer. */
  get status(): "running" | "done" {
    return this.answer === null ? "running" : "done";
  }

  /** What it is at. */
  get stage(): RunStage {
    return this.at;
  }

  /** Time reached by the run of the present stage, s. */
  get time(): number {
    return (this.secondRun ?? this.simulation)?.time ?? 0;
  }

  /** Time at which the run of the present stage ends, s; 0 for a refused file. */
  get end(): number {
    return this.secondRun?.end ?? this.simulation?.scenario.endTime ?? 0;
  }

  /** Goes on for at most `steps` accepted steps, a whole number ≥ 1. */
  advance(steps: number): "running" | "done" {
    if (this.status === "done" || this.simulation === null) return this.status;
    if (this.secondRun !== null) {
      if (this.secondRun.advance(steps) !== "running") this.endSecondRun(this.secondRun);
    } else if (this.simulation.advance(steps) !== "running") this.next(this.simulation.result());
    return this.status;
  }

  /**
   * Ends the job here. What was run so far is judged, and the verdict says at which time it was stopped; before the fault
   * there is nothing to judge, and it says that. Available short-circuit currents not yet known stay unknown.
   */
  stop(): void {
    if (this.status === "done" || this.simulation === null) return;
    if (this.secondRun !== null) this.secondRun.stop();
    else {
      this.simulation.stop();
      this.run = this.cut(this.simulation.result());
    }
    this.finish();
  }

  /**
   * The answer of a job that is done.
   *
   * @throws RangeError while it is still running
   */
  result(): Refused | Answered {
    if (this.answer === null) throw new RangeError("the run is not done: advance or stop it first");
    return this.answer;
  }

  private next(run: Run): void {
    if (this.startWhole(run) || (this.at === "run" && this.startFiner(run))) return;
    this.run = run;
    this.fuses = this.wantsSecondRun && noBasis(run) === null ? meltedFuses(run) : [];
    this.startSecondRun(this.options.leaps !== false);
  }

  /** For the first of the fuses that are left; without one the job is done. */
  private startSecondRun(leaps: boolean): void {
    const fuse = this.run?.fuses[this.fuses[0]];
    this.secondRun = fuse === undefined ? null : (this.simulation?.fromMelting(fuse.subject, leaps) ?? null);
    if (this.secondRun === null) this.finish();
    else this.at = "second run";
  }

  private endSecondRun(run: FromMelting): void {
    if (run.leaptWrongly) {
      this.startSecondRun(false);
      return;
    }
    const [index, ...left] = this.fuses;
    this.available.set(index, run.availableCurrent);
    this.fuses = left;
    this.startSecondRun(this.options.leaps !== false);
  }

  /** Where rounds were leapt over and the next was not what it should be, every round is integrated. */
  private startWhole(run: Run): boolean {
    if (!leaptWrongly(run)) return false;
    return this.startAgain(run, { ...this.options, leaps: false });
  }

  /** Rare lines, mostly such as only discharge capacitors, want a finer integration than the usual one. */
  private startFiner(run: Run): boolean {
    if (this.options.tolerance !== undefined || run.outcome.failure !== null || energyCloses(run)) return false;
    if (!this.startAgain(run, { ...this.options, tolerance: "tight" })) return false;
    this.at = "finer run";
    return true;
  }

  private startAgain({ scenario }: Run, options: RunOptions): boolean {
    const again = startOf(scenario, this.place, options);
    if (!(again instanceof Simulation)) return false;
    this.options = options;
    this.simulation = again;
    return true;
  }

  /** A run that was stopped is one of a scenario that ends there, unless nothing has happened yet. */
  private cut(run: Run): Run {
    const { scenario } = this.parsed;
    const { time } = run.outcome;
    if (scenario === null || run.outcome.status !== "stopped" || !(time > nothingBefore(scenario))) return run;
    this.warnings = [cutShort(scenario, time, "stopped")];
    return { ...run, scenario: { ...run.scenario, endTime: time } };
  }

  private finish(): void {
    const { parsed, run } = this;
    if (parsed.scenario === null || run === null) return;
    const verdict = judge(run, {
      warnings: [...this.warnings, ...inTextOrder([...this.ofLine, ...parsed.issues])],
      origins: parsed.origins,
      prospective: (index) => this.available.get(index) ?? null,
    });
    this.answer = { kind: "answered", scenario: parsed.scenario, parsed, run, verdict };
  }
}

/**
 * The whole job at once: reads a scenario file, runs it, judges it.
 *
 * @param text of the file
 * @param file its name, for the places in messages
 * @param options how to run it
 * @returns the run with its verdict, or all problems; never throws on bad input
 *
 * @example
 * const result = runScenario(text, "hut.yaml");
 * console.log(result.kind === "refused" ? formatIssues(result.issues) : renderText(result.verdict));
 */
export function runScenario(text: string, file: string, options: ScenarioRunOptions = {}): Refused | Answered {
  const job = new ScenarioRun(text, file, options);
  while (job.advance(20_000) === "running") if (job.stage !== "second run") options.progress?.(job.time, job.end);
  return job.result();
}

/**
 * Every problem of a scenario file without a run: those of the text, then whether the healthy line has an operating point; the same of each
 * variant in the file.
 *
 * @returns the parsed file; its scenario is null where there is an error
 * @example checkScenario(text, "hut.yaml").issues
 */
export function checkScenario(text: string, file: string): ScenarioResult {
  const memory = new FitMemory();
  const parsed = parseScenario(text, file, memory);
  const { variants, issues } = variantLines(text, file, { memory, base: parsed });
  const lines = [{ parsed, place: (found: readonly Issue[]) => placeIssues(found, text, file) }, ...variants];
  const unfit = lines.flatMap(({ parsed: { scenario }, place }) => {
    const started = scenario === null ? [] : startOf(scenario, place, { record: false });
    return started instanceof Simulation ? place(started.warnings()) : started;
  });
  const all = inTextOrder([...unfit, ...issues]);
  return {
    ...parsed,
    scenario: all.some(({ severity }) => severity === "error") ? null : parsed.scenario,
    issues: all,
  };
}

type Placing = (issues: readonly Issue[]) => readonly Issue[];

function startOf(scenario: Scenario, place: Placing, options: RunOptions): Simulation | readonly Issue[] {
  try {
    return new Simulation(scenario, options);
  } catch (error) {
    if (error instanceof InvalidInput) return place(error.issues);
    throw error;
  }
}
