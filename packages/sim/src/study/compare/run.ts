import { type Answered, type Refused, ScenarioRun, type ScenarioRunOptions } from "../../report/run-scenario.ts";
import { CAUTIONS } from "../../verdict/cautions.ts";
import { inOrder } from "./order.ts";
import { comparePlan, type PlanOptions } from "./plan.ts";
import { compareRow } from "./row.ts";
import { normalService } from "./service.ts";
import type { CompareEntry, ComparePlan, CompareRefused, CompareRow, Comparison, NormalService } from "./types.ts";

/** How a comparison is run. */
export interface CompareOptions
  extends PlanOptions,
    Pick<ScenarioRunOptions, "method" | "tolerance" | "until" | "secondRun"> {
  /** Whether to keep waveforms, for figures and for the moment at which a load was lost (default: of runs of up to a minute). */
  readonly record?: boolean;
}

/** Rows of waveforms kept of each line: of a slide's every pixel column the extremes of some twenty readings, also just after half of them went. */
const ROWS = 150_000;
/** Of longer runs waveforms are kept only where somebody asks for them; rounds that are alike are leapt over, and pictures draw them from one. */
const RECORDED_TO = 60;

/**
 * A comparison in pieces: all lines meet the identical fault, one after the other. It may be left after any number of steps, taken up again,
 * ended early or simply dropped. Never throws on bad input.
 *
 * @example
 * const job = new CompareRun(text, "hut.yaml");
 * while (job.advance(2000) === "running") await somethingElse();
 * const found = job.result();
 */
export class CompareRun {
  private readonly plan: ComparePlan | CompareRefused;
  private readonly options: CompareOptions;
  private readonly answers: (Answered | Refused)[] = [];
  private readonly services: (NormalService | null)[] = [];
  private current: ScenarioRun | null = null;
  private stopped = false;

  /**
   * Reads the file and decides which lines take part; nothing has run then.
   *
   * @param text of the scenario file
   * @param file its name, for the places in messages
   * @param options which schemes, and how each is run
   */
  constructor(text: string, file: string, options: CompareOptions = {}) {
    this.options = options;
    this.plan = comparePlan(text, file, options);
  }

  /** Whether all lines have been run, or the comparison was stopped. */
  get status(): "running" | "done" {
    return this.stopped || this.answers.length === this.entries.length ? "done" : "running";
  }

  /** How many lines were run, of how many; the name of the one at hand, empty when all are done. */
  get progress(): { readonly done: number; readonly of: number; readonly name: string } {
    const done = this.answers.length;
    return { done, of: this.entries.length, name: this.entries[done]?.name ?? "" };
  }

  /** Goes on for at most `steps` accepted steps of the line at hand, a whole number ≥ 1; the next line begins with the next call. */
  advance(steps: number): "running" | "done" {
    const entry = this.entries[this.answers.length];
    if (this.stopped || entry === undefined) return this.status;
    this.current ??= this.begin(entry);
    if (this.current.advance(steps) === "done") {
      this.services.push(normalService(entry.parsed));
      this.answers.push(this.current.result());
      this.current = null;
    }
    return this.status;
  }

  /** Ends it here; lines that have not been run to their end are told as not run. */
  stop(): void {
    this.stopped = this.status === "running";
    this.current = null;
  }

  /**
   * The comparison of a job that is done.
   *
   * @throws RangeError while it is still running
   */
  result(): Comparison | CompareRefused {
    if (this.plan.kind === "refused") return this.plan;
    if (this.status === "running") throw new RangeError("the comparison is not done: advance or stop it first");
    const rows = this.entries.map((entry, k) => compareRow(entry, this.answers[k] ?? null, this.services[k] ?? null));
    return { ...comparisonOf(this.plan, rows, this.answers), stopped: this.stopped };
  }

  private get entries(): readonly CompareEntry[] {
    return this.plan.kind === "planned" ? this.plan.entries : [];
  }

  private begin({ parsed, place }: CompareEntry): ScenarioRun {
    const { schemes: _, record, ...options } = this.options;
    const end = options.until ?? parsed.scenario?.endTime ?? 0;
    const wanted = record ?? end <= RECORDED_TO;
    return new ScenarioRun("", "", {
      ...options,
      parsed,
      place,
      record: wanted ? { most: ROWS } : false,
      leaps: end > RECORDED_TO,
    });
  }
}

/**
 * Puts a comparison together from rows that were made elsewhere, for instance of runs in other threads.
 *
 * @param plan what was run
 * @param rows one an entry, in the order of the plan
 * @param answers what became of the runs, in the same order
 */
export function comparisonOf(
  { title, entries, leftOut, issues }: ComparePlan,
  rows: readonly CompareRow[],
  answers: readonly (Answered | Refused | undefined)[],
): Comparison {
  const runs = entries.flatMap(({ name }, k) => {
    const answer = answers[k];
    return answer?.kind === "answered" ? [[name, answer] as const] : [];
  });
  return {
    kind: "compared",
    title,
    rows: inOrder(rows),
    leftOut,
    issues,
    runs: new Map(runs),
    stopped: false,
    cautions: CAUTIONS,
  };
}

/**
 * Schemes side by side, the whole job at once: every variant of a scenario file, or ready-made schemes of protection, on the identical fault.
 *
 * @param text of the scenario file
 * @param file its name, for the places in messages
 * @param options which schemes (names of variants in the file, words of ready-made schemes), and how each is run
 * @returns a row a line in the order of what matters, the runs, and what was left out with the reason; or every problem of the file, of its
 *   variants and of the names asked for; never throws on bad input
 *
 * @example
 * const found = compareSchemes(text, "hut.yaml", { schemes: ["nothing", "relay", "SCR with fuse"] });
 * if (found.kind === "compared") console.log(found.rows.map(({ name }) => name));
 */
export function compareSchemes(text: string, file: string, options: CompareOptions = {}): Comparison | CompareRefused {
  const job = new CompareRun(text, file, options);
  while (job.advance(20_000) === "running");
  return job.result();
}
