import { ScenarioRun } from "../../report/run-scenario.ts";
import { MatchStudy } from "./study.ts";
import type { MatchAnswer, MatchOptions, MatchRefused } from "./types.ts";

/** How a full run is made: its end must be seen, its course need not; rounds that are alike may be leapt over. */
const RUN_OPTIONS = { record: { most: 4000 }, leaps: true } as const;

/**
 * A study that makes its full runs itself, in pieces.
 *
 * @example
 * const study = new MatchRun(text, "hut.yaml");
 * while (study.advance(2000) === "running") await somethingElse();
 * const answer = study.result();
 */
export class MatchRun extends MatchStudy {
  private own: { readonly id: string; readonly run: ScenarioRun } | null = null;

  /** Goes on for at most so many accepted steps of a full run, a whole number ≥ 1, or one piece of planning. */
  advance(steps: number): "running" | "done" {
    if (this.own === null) {
      const step = this.next();
      if (step.kind !== "run") return this.status;
      const run = new ScenarioRun(step.text, step.file, { ...RUN_OPTIONS, memory: this.memory });
      this.own = { id: step.id, run };
    }
    const { id, run } = this.own;
    if (run.advance(steps) === "done") {
      this.own = null;
      this.take(id, run.result());
    }
    return this.status;
  }
}

/**
 * The whole study at once.
 *
 * @param text of a scenario file with a crowbar
 * @param file its name, for the places in messages
 * @returns the short list with reasons, or all problems; never throws on bad input
 * @example matchParts(text, "hut.yaml")
 */
export function matchParts(text: string, file: string, options: MatchOptions = {}): MatchAnswer | MatchRefused {
  const study = new MatchRun(text, file, options);
  while (study.advance(50_000) === "running");
  return study.result();
}
