import { InvalidInput, type Issue } from "../issue/issue.ts";
import type { Run } from "../model/result.ts";
import { type RunOptions, Simulation } from "../model/run.ts";
import { parseScenario, placeIssues, type ScenarioResult } from "../scenario/index.ts";
import { inTextOrder } from "../scenario/text/order.ts";
import type { Scenario } from "../scenario/types.ts";
import { formatQuantity } from "../units/index.ts";
import { energyCloses } from "../verdict/basis.ts";
import { judge } from "../verdict/judge.ts";
import { bySecondRun } from "../verdict/second-run.ts";
import type { Verdict } from "../verdict/types.ts";

/** What is left of the options: those that a whole run from a text has no use for stay out. */
export interface ScenarioRunOptions extends Pick<RunOptions, "method" | "tolerance" | "until" | "record" | "maxSteps"> {
  /** Whether a second run tells a melted fuse's available short-circuit current (default true). */
  readonly secondRun?: boolean;
  /** Called now and then with the time reached and the end, s. */
  readonly progress?: (time: number, end: number) => void;
}

/** A scenario that could not be run: every problem with its place. */
export interface Refused {
  readonly kind: "refused";
  readonly issues: readonly Issue[];
}

/** A scenario that was run; its verdict may still be `not a verdict`. */
export interface Answered {
  readonly kind: "answered";
  readonly scenario: Scenario;
  readonly parsed: ScenarioResult;
  readonly run: Run;
  readonly verdict: Verdict;
}

/**
 * The whole job: reads a scenario file, runs it, judges it.
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
  const { secondRun = true, progress, ...runOptions } = options;
  const parsed = parseScenario(text, file);
  const { scenario } = parsed;
  if (scenario === null) return { kind: "refused", issues: parsed.issues };
  const early = untilProblems(scenario, runOptions.until ?? null);
  if (early.refusal !== null) return { kind: "refused", issues: [early.refusal] };
  let used: RunOptions = runOptions;
  let run = finish(scenario, text, file, used, progress);
  if ("issues" in run) return { kind: "refused", issues: inTextOrder([...run.issues, ...parsed.issues]) };
  if (used.tolerance === undefined && run.outcome.failure === null && !energyCloses(run)) {
    // Rare lines, mostly such as only discharge capacitors, want a finer integration than the usual one.
    used = { ...runOptions, tolerance: "tight" };
    const finer = finish(scenario, text, file, used, progress);
    if (!("issues" in finer)) run = finer;
  }
  const verdict = judge(run, {
    warnings: [...early.warnings, ...parsed.issues],
    origins: parsed.origins,
    prospective: secondRun ? bySecondRun(run, used) : null,
  });
  return { kind: "answered", scenario, parsed, run, verdict };
}

/**
 * Every problem of a scenario file without a run: those of the text, then whether the healthy line has an operating point.
 *
 * @returns the parsed file; its scenario is null where there is an error
 * @example checkScenario(text, "hut.yaml").issues
 */
export function checkScenario(text: string, file: string): ScenarioResult {
  const parsed = parseScenario(text, file);
  if (parsed.scenario === null) return parsed;
  const started = startOf(parsed.scenario, text, file, { record: false });
  return Array.isArray(started)
    ? { ...parsed, scenario: null, issues: inTextOrder([...started, ...parsed.issues]) }
    : parsed;
}

function finish(
  scenario: Scenario,
  text: string,
  file: string,
  options: RunOptions,
  progress: ScenarioRunOptions["progress"],
): Run | { readonly issues: Issue[] } {
  const started = startOf(scenario, text, file, options);
  if (Array.isArray(started)) return { issues: started };
  while (started.advance(20_000) === "running") progress?.(started.time, started.scenario.endTime);
  return started.result();
}

function startOf(scenario: Scenario, text: string, file: string, options: RunOptions): Simulation | Issue[] {
  try {
    return new Simulation(scenario, options);
  } catch (error) {
    if (error instanceof InvalidInput) return placeIssues(error.issues, text, file);
    throw error;
  }
}

/** A run cut before its fault would call every radio safe; one cut later says that it was cut. */
function untilProblems({ faultTime, endTime, start }: Scenario, until: number | null) {
  if (until === null) return { refusal: null, warnings: [] };
  const first = start === "dead" ? 0 : faultTime;
  const time = (seconds: number): string => formatQuantity(seconds, "time");
  const issue = (severity: Issue["severity"], code: string, message: string, hint: string): Issue => ({
    severity,
    code,
    path: "",
    message,
    received: time(until),
    allowed: `later than ${time(first)}, at most ${time(endTime)}`,
    hint,
    position: null,
  });
  if (!(until > first) || until > endTime) {
    const message =
      until > endTime
        ? "The run was to go on for longer than the scenario does."
        : "The run was to end before anything happens: no verdict could follow from it.";
    const hint = until > endTime ? "raise `run for` in the file" : "choose a later end";
    return { refusal: issue("error", "until-out-of-range", message, hint), warnings: [] };
  }
  if (until === endTime) return { refusal: null, warnings: [] };
  const message = `This run was cut at ${time(until)}; the scenario goes on until ${time(endTime)}, and what happens then is not judged.`;
  return {
    refusal: null,
    warnings: [issue("warning", "cut-short", message, "run it to its end before relying on it")],
  };
}
