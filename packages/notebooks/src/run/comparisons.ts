import { CompareRun, FitMemory } from "@railfault/sim";
import type { FromComparer, ToComparer } from "./protocol.ts";

/** What a comparison needs of the thread it runs in. */
export interface ComparisonSurroundings {
  readonly post: (message: FromComparer) => void;
  /** A clock, ms. */
  readonly now: () => number;
  /** Calls back soon, after what has arrived meanwhile has been taken in. */
  readonly later: (task: () => void) => void;
}

/** After so long the thread listens to messages, ms. */
const SLICE = 8;
/** Steps between two looks at the clock. */
const STEPS = 25;

/** Puts schemes side by side in a worker, slice by slice, and listens in between. */
export class Comparisons {
  private readonly memory = new FitMemory();
  private present: { readonly id: number; readonly run: CompareRun; told: number } | null = null;

  constructor(private readonly around: ComparisonSurroundings) {}

  take(message: ToComparer): void {
    const { id } = message;
    this.guarded(id, () => {
      if (message.kind === "compare") {
        const run = new CompareRun(message.text, message.file, { memory: this.memory, leaveOut: true });
        this.present = { id, run, told: -1 };
        this.around.later(() => this.goOn(id));
      } else if (this.present?.id === id) {
        this.present.run.stop();
        this.tell();
      }
    });
  }

  private goOn(id: number): void {
    this.guarded(id, () => {
      const { present } = this;
      if (present?.id !== id) return;
      const until = this.around.now() + SLICE;
      let status = present.run.advance(STEPS);
      while (status === "running" && this.around.now() < until) status = present.run.advance(STEPS);
      if (status === "done") {
        this.tell();
        return;
      }
      const { progress } = present.run;
      if (progress.done !== present.told) {
        present.told = progress.done;
        this.around.post({ kind: "comparing", id, ...progress });
      }
      this.around.later(() => this.goOn(id));
    });
  }

  private tell(): void {
    if (this.present === null) return;
    const { id, run } = this.present;
    this.present = null;
    this.around.post({ kind: "compared", id, found: run.result() });
  }

  private guarded(id: number, work: () => void): void {
    try {
      work();
    } catch (error) {
      this.present = null;
      this.around.post({
        kind: "comparison failed",
        id,
        message: error instanceof Error ? error.message : String(error),
      });
    }
  }
}
