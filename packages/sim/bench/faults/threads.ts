import { startThreads } from "../../src/cli/threads/pool.ts";
import { type Tally, together } from "./tally.ts";
import type { FaultSetup } from "./worker.ts";

/** Faults that each thread runs first, uncounted, where the warm figures are wanted. */
const WARM_UP = 200;

/**
 * Random faults 0 … `faults` − 1, dealt out to `workers` threads.
 *
 * @param cold whether each thread counts from its first run on
 */
export async function runFaults(faults: number, workers: number, check: boolean, cold = false): Promise<Tally> {
  const all = Array.from({ length: faults }, (_, k) => k);
  const warmUp = cold ? [] : Array.from({ length: Math.min(WARM_UP, faults) }, (_, k) => faults + k);
  const shares = Array.from({ length: Math.min(workers, faults) }, (_, w) => all.filter((k) => k % workers === w));
  const module = new URL("./worker.ts", import.meta.url);
  const threads = startThreads<FaultSetup, readonly number[], Tally>(module, { warmUp, check }, shares.length);
  try {
    return together(await Promise.all(shares.map((seeds) => threads.run(seeds, null))));
  } finally {
    await threads.close();
  }
}
