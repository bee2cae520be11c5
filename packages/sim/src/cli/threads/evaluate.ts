import { type Batch, type BatchResult, Evaluator, type Setup } from "../../study/pool/evaluate.ts";
import type { ThreadModule } from "./pool.ts";

/** Of a thread that runs one scenario at many values. */
export const begin: ThreadModule<Setup, Batch, BatchResult>["begin"] = (setup) => {
  const evaluator = new Evaluator(setup);
  return (batch) => evaluator.run(batch);
};
