import { Worker } from "node:worker_threads";
import { type Tally, together } from "./tally.ts";

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
  return together(await Promise.all(shares.map((seeds) => inThread({ seeds, warmUp, check }))));
}

function inThread(workerData: object): Promise<Tally> {
  return new Promise((resolve, reject) => {
    const worker = new Worker(new URL("./thread.mjs", import.meta.url), { workerData });
    worker.once("message", resolve);
    worker.once("error", reject);
    worker.once("exit", (status) => reject(new Error(`a thread ended early with status ${status}`)));
  });
}
