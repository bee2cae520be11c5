import type { ThreadModule } from "../../src/cli/threads/pool.ts";
import { type Tally, tally } from "./tally.ts";

/** What each thread begins with: seeds that run first, uncounted, and whether the others run again at 1e-10. */
export interface FaultSetup {
  readonly warmUp: readonly number[];
  readonly check: boolean;
}

/** Of a thread that runs random faults. */
export const begin: ThreadModule<FaultSetup, readonly number[], Tally>["begin"] = ({ warmUp, check }) => {
  if (warmUp.length > 0) tally(warmUp, false);
  return (seeds) => tally(seeds, check);
};
