/** Where a thread waits that was started before the page's own code. */
const WAITING = "railfault: waiting thread";

interface Place {
  [WAITING]?: Worker;
}

/** Starts a thread for runs, comparisons and batches of samples. */
export const newThread = (): Worker => new Worker(new URL("./run.worker.ts", import.meta.url), { type: "module" });

/**
 * Starts a thread that waits for the first who needs one. It loads what it consists of while the page is still being read; started only
 * when the page asks for its first run, it would load after all the rest.
 */
export function startAhead(): void {
  const page = globalThis as Place;
  const thread = newThread();
  // One that broke down before anyone listened answers nobody.
  thread.addEventListener("error", () => {
    if (page[WAITING] === thread) delete page[WAITING];
  });
  page[WAITING] = thread;
}

/** The thread that waits, or a new one. */
export function takeThread(): Worker {
  const page = globalThis as Place;
  const waiting = page[WAITING];
  delete page[WAITING];
  return waiting ?? newThread();
}
