import { execFileSync } from "node:child_process";
import { join } from "node:path";
import { type Run, type Scenario, simulate, type Work } from "../src/index.ts";
import { type Case, scenarioOf } from "./cases.ts";

/** What one way of running one case took. Times are of the processor, all threads of the program together, ms. */
export interface Measured {
  readonly id: string;
  readonly what: string;
  readonly by: string;
  /** The first run of a fresh process; null where there is none. */
  readonly coldMs: number | null;
  /** Median of the later runs. */
  readonly warmMs: number;
  /** The same by the wall's clock; null where that was not taken. */
  readonly warmWallMs: number | null;
  readonly repeated: number;
  readonly work: Partial<Record<keyof Work, number | null>>;
  /** Most memory that a fresh process held, and how much of it came with the run, MB; null where not known. */
  readonly peakMegabytes: number | null;
  readonly addedMegabytes: number | null;
}

/** Long cases are not repeated beyond so much time, ms. */
const PATIENCE = 20_000;
/** What runs first, uncounted: for so long, but no more runs than five times those that count. */
const WARM_UP = 1500;

/** How the bench runs the simulator: nothing is drawn from these runs, so no waveform is kept. */
export const runOnce = (scenario: Scenario): Run => simulate(scenario, { record: false });

/** The first run in a process of its own, then the median of many here. */
export function measure(entry: Case, repeat: number): { measured: Measured; run: Run } {
  const cold = coldRun(entry.id);
  const scenario = scenarioOf(entry);
  let { run, ...once } = timed(scenario);
  const times = [once];
  // A run that alone takes so long is compiled well before its end.
  if (once.wall < PATIENCE) {
    const begin = performance.now();
    for (let k = 0; k < 5 * repeat && performance.now() - begin < WARM_UP; k++) run = runOnce(scenario);
    times.length = 0;
    const start = performance.now();
    while (times.length < repeat && (times.length === 0 || performance.now() - start < PATIENCE)) {
      ({ run, ...once } = timed(scenario));
      times.push(once);
    }
  }
  const measured: Measured = {
    id: entry.id,
    what: entry.what,
    by: "Railfault",
    ...cold,
    warmMs: median(times.map(({ processor }) => processor)),
    warmWallMs: median(times.map(({ wall }) => wall)),
    repeated: times.length,
    work: run.work,
  };
  return { measured, run };
}

function timed(scenario: Scenario): { run: Run; wall: number; processor: number } {
  const [from, used] = [performance.now(), process.cpuUsage()];
  const run = runOnce(scenario);
  const { user, system } = process.cpuUsage(used);
  return { run, wall: performance.now() - from, processor: (user + system) / 1000 };
}

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle] : 0.5 * (sorted[middle - 1] + sorted[middle]);
}

function coldRun(id: string): Pick<Measured, "coldMs" | "peakMegabytes" | "addedMegabytes"> {
  const script = join(import.meta.dirname, "cold.ts");
  return JSON.parse(
    execFileSync(process.execPath, ["--import", import.meta.resolve("tsx"), script, id], { encoding: "utf8" }),
  );
}
