import type { Batch, BatchResult, Setup } from "./evaluate.ts";
import { RUN_FIGURES } from "./figures.ts";
import { OUTCOMES } from "./outcome.ts";

/** Tells whether somebody wants the work to end; an `AbortSignal` is one. */
export interface Signal {
  /** Whether it is raised. */
  readonly aborted: boolean;
}

/** Those who do the runs: threads of Node, workers of a page, or this very thread. */
export interface Crew {
  /** How many batches it works on at once. */
  readonly size: number;
  /** Works one batch out; rejects where whoever did it broke down, or where `signal` was raised. */
  run(batch: Batch, signal: Signal | null): Promise<BatchResult>;
  /** Ends it; nothing is asked of it afterwards. */
  close(): Promise<void>;
}

/** Makes the crew for one scenario. */
export type CrewMaker = (setup: Setup) => Crew;

/** How far a study is. */
export interface Progress {
  /** Runs made. */
  readonly done: number;
  /** Runs to be made in all. */
  readonly total: number;
  /** Time that has gone by, s. */
  readonly elapsed: number;
  /** What is left at that pace, s; null while that is not known. */
  readonly left: number | null;
}

/** How a study is watched and ended. */
export interface DealOptions {
  /** Raised, the study ends at once. */
  readonly signal?: Signal | null;
  /** Called whenever a batch is done. */
  readonly progress?: (progress: Progress) => void;
}

/** Thrown out of a study that somebody ended. */
export class Cancelled extends Error {
  override readonly name = "Cancelled";
  constructor() {
    super("the study was cancelled");
  }
}

/** Vectors of one batch: a few hundredths of a second of work, so that a cancelled study ends soon and nobody waits for the last one. */
const BATCH = 32;

/** Cuts vectors into batches. `make` gives one vector by its index. */
export function* batchesOf(
  first: number,
  count: number,
  make: (index: number) => readonly number[],
  size = BATCH,
): Generator<Batch> {
  for (let from = first; from < first + count; from += size) {
    const length = Math.min(size, first + count - from);
    yield { first: from, values: Float64Array.from(Array.from({ length }, (_, k) => make(from + k)).flat()) };
  }
}

/**
 * Deals batches out to a crew and takes the results as they come, in any order. A batch whose worker broke down is done once more vector by
 * vector, so that only the one at fault is lost; it is told as `crashed`.
 *
 * @param width values of one vector
 * @param total vectors of all batches, for the progress
 * @throws Cancelled once the signal is raised
 */
export async function deal(
  batches: Iterable<Batch>,
  width: number,
  total: number,
  crew: Crew,
  take: (result: BatchResult) => void,
  { signal = null, progress = () => {} }: DealOptions = {},
): Promise<void> {
  const begin = Date.now();
  let done = 0;
  const source = batches[Symbol.iterator]();
  const taken = (result: BatchResult): void => {
    take(result);
    done += result.outcomes.length;
    const elapsed = (Date.now() - begin) / 1000;
    progress({ done, total, elapsed, left: (elapsed / done) * (total - done) });
  };
  const worker = async (): Promise<void> => {
    for (let next = source.next(); next.done !== true; next = source.next()) {
      if (signal?.aborted) throw new Cancelled();
      for await (const result of safely(next.value, width, crew, signal)) taken(result);
    }
  };
  // One more than there are workers: nobody waits for this thread to hand out the next.
  await Promise.all(Array.from({ length: crew.size + 1 }, worker));
  if (signal?.aborted) throw new Cancelled();
}

async function* safely(batch: Batch, width: number, crew: Crew, signal: Signal | null): AsyncGenerator<BatchResult> {
  try {
    yield await crew.run(batch, signal);
    return;
  } catch (error) {
    if (signal?.aborted) throw new Cancelled();
    if (batch.values.length <= width) {
      yield crashed(batch, error);
      return;
    }
  }
  for (let k = 0; k * width < batch.values.length; k++) {
    const one = { first: batch.first + k, values: batch.values.slice(k * width, (k + 1) * width) };
    yield* safely(one, width, crew, signal);
  }
}

function crashed({ first }: Batch, error: unknown): BatchResult {
  const message = error instanceof Error ? error.message : String(error);
  return {
    first,
    outcomes: Uint8Array.of(OUTCOMES.indexOf("no verdict")),
    close: new Uint8Array(1),
    figures: new Float64Array(RUN_FIGURES.length).fill(Number.NaN),
    broken: [{ index: first, kind: "crashed", message }],
  };
}
