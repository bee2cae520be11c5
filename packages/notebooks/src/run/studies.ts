import { type Batch, Evaluator } from "@railfault/sim";
import type { FromCrew, ToCrew } from "./protocol.ts";

/** Runs one scenario at many values, batch by batch, in a worker of a crew. */
export class Studies {
  private evaluator: Evaluator | null = null;

  constructor(private readonly post: (message: FromCrew) => void) {}

  take(message: ToCrew): void {
    try {
      if (message.kind === "setup") this.evaluator = new Evaluator(message.setup);
      else this.post({ kind: "batch", result: this.run(message.batch) });
    } catch (error) {
      this.post({ kind: "batch failed", message: error instanceof Error ? error.message : String(error) });
    }
  }

  private run(batch: Batch) {
    if (this.evaluator === null) throw new Error("nobody said which scenario is run");
    return this.evaluator.run(batch);
  }
}
