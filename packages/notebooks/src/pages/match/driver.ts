import { type Issue, type MatchAnswer, type MatchOptions, type MatchProgress, MatchStudy } from "@railfault/sim";
import type { Runner } from "../../run/runner.ts";

/** So long nothing must have changed before a study begins, ms: a slider that moves comes first. */
const PATIENCE = 400;
/** A piece of planning is followed by others for so long at the most, ms: then the page has its turn. */
const SLICE = 6;
const SLOT = "match";

/** Who is told of a study; after `answered`, `refused` or `failed` nothing more comes of it. */
export interface MatchListener {
  readonly progress: (at: MatchProgress) => void;
  readonly answered: (answer: MatchAnswer) => void;
  readonly refused: (issues: readonly Issue[]) => void;
  readonly failed: (message: string) => void;
}

/**
 * Carries out studies for a page: parts are looked up between two frames, full runs are made in another thread. A new study takes the place
 * of the one before.
 */
export class MatchDriver {
  private study: MatchStudy | null = null;
  private timer: ReturnType<typeof setTimeout> | undefined;
  private listener: MatchListener | null = null;

  constructor(
    private readonly runner: Runner,
    private readonly patience = PATIENCE,
  ) {}

  ask(line: { readonly text: string; readonly file: string }, options: MatchOptions, listener: MatchListener): void {
    this.drop();
    this.listener = listener;
    this.timer = setTimeout(() => {
      this.study = new MatchStudy(line.text, line.file, options);
      this.goOn(this.study);
    }, this.patience);
  }

  /** Ends the study at hand with what it has found. */
  stop(): void {
    const { study } = this;
    if (study === null) return;
    this.runner.cancel(SLOT);
    study.stop();
    this.tell(study);
  }

  /** Nobody is told of the study at hand any more. */
  drop(): void {
    clearTimeout(this.timer);
    this.runner.cancel(SLOT);
    this.study = null;
    this.listener = null;
  }

  private goOn(study: MatchStudy): void {
    if (study !== this.study) return;
    const until = performance.now() + SLICE;
    let step = study.next();
    while (step.kind === "working" && performance.now() < until) step = study.next();
    if (step.kind === "done") {
      this.tell(study);
      return;
    }
    this.listener?.progress(study.progress);
    if (step.kind === "working") {
      this.timer = setTimeout(() => this.goOn(study), 0);
      return;
    }
    const { id, text, file } = step;
    this.runner.run(
      SLOT,
      { text, file, record: { most: 4000 }, rows: 4000 },
      {
        answer: (answer) => this.taken(study, () => study.take(id, answer)),
        refused: (issues) => this.taken(study, () => study.take(id, { kind: "refused", issues })),
        failed: (message) => {
          if (study === this.study) this.listener?.failed(message);
        },
      },
    );
  }

  private taken(study: MatchStudy, take: () => void): void {
    if (study !== this.study) return;
    take();
    this.goOn(study);
  }

  private tell(study: MatchStudy): void {
    const { listener } = this;
    this.study = null;
    const result = study.result();
    if (result.kind === "refused") listener?.refused(result.issues);
    else listener?.answered(result);
  }
}
