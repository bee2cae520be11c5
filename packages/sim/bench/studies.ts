import { readFileSync } from "node:fs";
import { join } from "node:path";
import { threadCrew } from "../src/cli/threads/crew.ts";
import {
  type Collected,
  collect,
  compareSchemes,
  FitMemory,
  USUAL_OPTIONS,
  USUAL_WHATIF,
  whatIf,
} from "../src/index.ts";

/** What studies of many runs took. Times by the wall's clock, from the first thread's start to the last result, s. */
export interface Studies {
  readonly samples: number;
  readonly workers: number;
  readonly seconds: number;
  /** So many of the samples on one thread, and how long they took there. */
  readonly alone: { readonly samples: number; readonly seconds: number };
  /** How many times as fast the threads together are, start included. */
  readonly gain: number;
  /** Most memory that this process held with all its threads, MB. */
  readonly peakMegabytes: number;
  /** Thread counts that gave the very same numbers. */
  readonly same: readonly number[];
  readonly plane: { readonly simulations: number; readonly seconds: number; readonly isComplete: boolean };
  /** Variants of a line side by side on this thread, waveforms kept: the first time of all, and the median of more. */
  readonly comparison: { readonly variants: number; readonly first: number; readonly median: number };
}

const file = "27-scattered-parts.yaml";
const compared = "28-schemes-side-by-side.yaml";
/** So often the comparison is timed; with few samples asked for, nobody wants a good median either. */
const COMPARISONS = 15;
const FEWEST_COMPARISONS = 3;

/** One second of the shipped line with tolerances, drawn and dealt out; then a plane of two of its values. */
export async function measureStudies(samples: number, workers: number): Promise<Studies> {
  const text = readFileSync(join(import.meta.dirname, "../scenarios", file), "utf8");
  let peak = 0;
  const watch = () => {
    peak = Math.max(peak, process.memoryUsage.rss());
  };
  const run = async (
    count: number,
    threads: number,
    progress = () => {},
  ): Promise<{ collected: Collected; seconds: number }> => {
    const begin = performance.now();
    const answer = await collect(text, file, { ...USUAL_OPTIONS, samples: count }, threadCrew(threads), { progress });
    if (answer.kind === "refused") throw new Error(`${file}: ${answer.issues[0]?.message}`);
    return { collected: answer.collected, seconds: (performance.now() - begin) / 1000 };
  };
  const { seconds } = await run(samples, workers, watch);
  const fewer = Math.max(1, Math.round(samples / 5));
  const [one, many] = [await run(fewer, 1), await run(fewer, workers)];
  const same: number[] = [];
  for (const threads of [1, 2, 4]) {
    const { collected } = await run(Math.min(fewer, 100), threads);
    if (sameRows(collected, one.collected)) same.push(threads);
  }
  const comparison = measureComparison(Math.max(FEWEST_COMPARISONS, Math.min(COMPARISONS, Math.round(samples / 20))));
  const begin = performance.now();
  const plane = await whatIf(
    text,
    file,
    { x: "crowbar.trip voltage: 14…17 V", y: "station supply.limit.current: 5…60 A", ...USUAL_WHATIF },
    threadCrew(workers),
  );
  if (plane.kind === "refused") throw new Error(`${file}: ${plane.issues[0]?.message}`);
  return {
    samples,
    workers,
    seconds,
    alone: { samples: fewer, seconds: one.seconds },
    gain: one.seconds / many.seconds,
    peakMegabytes: peak / 1e6,
    same,
    plane: {
      simulations: plane.study.points.length,
      seconds: (performance.now() - begin) / 1000,
      isComplete: plane.study.isComplete,
    },
    comparison,
  };
}

/** The whole job: reading the file with its variants, every run with its verdict, normal service, the order. */
function measureComparison(count: number): Studies["comparison"] {
  const text = readFileSync(join(import.meta.dirname, "../scenarios", compared), "utf8");
  const memory = new FitMemory();
  let variants = 0;
  const times = Array.from({ length: count }, () => {
    const begin = performance.now();
    const found = compareSchemes(text, compared, { memory });
    if (found.kind === "refused") throw new Error(`${compared}: ${found.issues[0]?.message}`);
    variants = found.rows.length - 1;
    return (performance.now() - begin) / 1000;
  });
  const sorted = times.slice(1).sort((a, b) => a - b);
  return { variants, first: times[0], median: sorted[Math.floor(sorted.length / 2)] };
}

/** Whether the first samples of two studies are the same numbers. */
function sameRows(a: Collected, b: Collected): boolean {
  const length = Math.min(a.samples.peak.length, b.samples.peak.length);
  return (["peak", "trip", "share", "outcomes"] as const).every((name) =>
    Array.from({ length }, (_, k) => Object.is(a.samples[name][k], b.samples[name][k])).every(Boolean),
  );
}
