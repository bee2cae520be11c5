import type { CrewMaker } from "../../study/pool/deal.ts";
import type { Batch, BatchResult, Setup } from "../../study/pool/evaluate.ts";
import { startThreads } from "./pool.ts";

/** A crew of so many threads. */
export function threadCrew(size: number): CrewMaker {
  return (setup) => {
    const threads = startThreads<Setup, Batch, BatchResult>(new URL("./evaluate.ts", import.meta.url), setup, size);
    // In Node a signal is nothing else.
    return { ...threads, run: (batch, signal) => threads.run(batch, signal as AbortSignal | null) };
  };
}
