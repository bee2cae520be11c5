import { readdirSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import type { FromWorker } from "../../notebooks/src/run/protocol.ts";
import type { Case } from "./cases.ts";
import { randomFault, readRanges } from "./faults/random-fault.ts";
import { median } from "./measure.ts";

/** What a page waits for: from the message to the worker until its answer is there, verdict and waveforms included, ms. */
export interface BrowserTiming {
  readonly id: string;
  readonly what: string;
  readonly firstMs: number;
  readonly medianMs: number;
  readonly repeated: number;
  readonly steps: number;
  readonly events: number;
}

/** A run is not repeated beyond so much time, ms. */
const PATIENCE = 20_000;

interface Job {
  readonly text: string;
  readonly file: string;
}

/** Runs in the page: one fresh worker, the jobs in turn, each `repeat` times after a first; gives times, steps and events of the last. */
async function inPage(asked: { worker: string; jobs: readonly Job[]; repeat: number; patience: number }) {
  const { worker: script, jobs, repeat, patience } = asked;
  const worker = new Worker(script, { type: "module" });
  const run = (job: Job, id: number) =>
    new Promise<FromWorker>((resolve, reject) => {
      worker.onerror = ({ message }) => reject(new Error(`the worker broke off: ${message}`));
      worker.onmessage = ({ data }: MessageEvent<FromWorker>) => {
        if (data.kind !== "progress" && data.id === id) resolve(data);
      };
      worker.postMessage({ kind: "run", slot: "bench", id, request: job });
    });
  const times: number[] = [];
  let last = { steps: 0, events: 0 };
  const start = performance.now();
  let id = 0;
  for (let round = 0; round <= repeat && (round < 2 || performance.now() - start < patience); round++) {
    for (const job of jobs) {
      const begin = performance.now();
      id += 1;
      const found = await run(job, id);
      times.push(performance.now() - begin);
      if (found.kind !== "answer") throw new Error(`${job.file}: ${JSON.stringify(found).slice(0, 300)}`);
      last = { steps: found.answer.run.work.steps, events: found.answer.run.events.length };
    }
  }
  worker.terminate();
  return { times, ...last };
}

/**
 * The cases in a headless browser through the worker of the built pages, each in a fresh worker, and some random faults in one.
 *
 * @returns null where there is no browser
 */
export async function measureInBrowser(
  cases: readonly Case[],
  repeat: number | null,
  faults: number,
): Promise<BrowserTiming[] | null> {
  // Only now: without the option neither browser nor site is wanted.
  const { browserPath, startBrowser, watchedPage } = await import("../../../test/support/browser.ts");
  if (browserPath() === null) return null;
  const { builtSite } = await import("../../../test/support/built-site.ts");
  const { serveDist } = await import("../../notebooks/build/serve-dist.ts");
  const folder = await builtSite();
  const site = await serveDist({ folder });
  const browser = await startBrowser();
  try {
    const { page } = await watchedPage(browser, site.url);
    // What reads TypeScript here leaves calls of this helper in the function that is handed to the page.
    await page.addInitScript("globalThis.__name = (named) => named");
    await page.goto(new URL("index.html", site.url).href);
    const worker = new URL(workerOf(folder), site.url).href;
    const out: BrowserTiming[] = [];
    for (const { id, what, text, file, repeat: usual } of cases)
      out.push(
        await timing(page, { worker, jobs: [{ text, file }], repeat: repeat ?? usual, patience: PATIENCE }, id, what),
      );
    if (faults > 0) {
      const ranges = readRanges();
      const jobs = Array.from({ length: faults }, (_, seed) => ({
        text: JSON.stringify(randomFault(ranges, seed)),
        file: `fault ${seed}`,
      }));
      out.push(await timing(page, { worker, jobs, repeat: 0, patience: 0 }, "e", `a random fault, of ${faults}`));
    }
    return out;
  } finally {
    await browser.close();
    await site.close();
  }
}

async function timing(
  page: Page,
  asked: Parameters<typeof inPage>[0],
  id: string,
  what: string,
): Promise<BrowserTiming> {
  const { times, steps, events } = await page.evaluate(inPage, asked);
  const [firstMs = Number.NaN, ...rest] = times;
  return {
    id,
    what,
    firstMs,
    medianMs: median(rest.length > 0 ? rest : times),
    repeated: Math.max(1, rest.length),
    steps,
    events,
  };
}

function workerOf(folder: string): string {
  const assets = join(folder, "assets");
  const name = readdirSync(assets).find((each) => /^run\.worker.*\.js$/.test(each));
  if (name === undefined) throw new Error(`no worker of the pages in ${assets}: ${readdirSync(assets).join(", ")}`);
  return `assets/${name}`;
}
