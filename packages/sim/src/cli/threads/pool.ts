import { availableParallelism } from "node:os";
import { Tinypool } from "tinypool";

/** What a thread loads: a function that takes what all tasks share and gives what does one task. */
export interface ThreadModule<Setup, Task, Result> {
  readonly begin: (setup: Setup) => (task: Task) => Result;
}

/** Threads of Node that do tasks of one kind. */
export interface Threads<Task, Result> {
  readonly size: number;
  /** Rejects where the thread broke down, or where the signal was raised: then it is ended at once, in the middle of its work. */
  run(task: Task, signal: AbortSignal | null): Promise<Result>;
  close(): Promise<void>;
}

/** All cores. */
export const allCores = (): number => availableParallelism();

/**
 * Starts threads. Each loads the module once and keeps what it began with; one that breaks down is replaced.
 *
 * @param module a file that exports `begin`
 * @param setup plain data, handed to each thread
 * @param size how many
 */
export function startThreads<Setup, Task, Result>(module: URL, setup: Setup, size: number): Threads<Task, Result> {
  const pool = new Tinypool({
    filename: new URL("./thread.mjs", import.meta.url).href,
    minThreads: size,
    maxThreads: size,
    // A thread that waits for a message takes it sooner, and can be ended any time.
    useAtomics: false,
    // Short-lived objects are most of what a run makes: without a bound each thread would let them pile up, and in a narrow one they are collected so
    // often that it takes nearly a tenth of the work.
    resourceLimits: { maxYoungGenerationSizeMb: 16, maxOldGenerationSizeMb: 192 },
    workerData: { module: module.href, setup },
  });
  return {
    size,
    run: (task, signal) => pool.run(task, { signal }),
    close: () => pool.destroy(),
  };
}
