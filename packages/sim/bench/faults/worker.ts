import { parentPort, workerData } from "node:worker_threads";
import { tally } from "./tally.ts";

const { seeds, warmUp, check } = workerData as { seeds: readonly number[]; warmUp: readonly number[]; check: boolean };
if (warmUp.length > 0) tally(warmUp, false);
parentPort?.postMessage(tally(seeds, check));
