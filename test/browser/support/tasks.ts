import type { Page } from "playwright-core";

interface TraceEvent {
  readonly name: string;
  readonly pid: number;
  readonly tid: number;
  /** Wall and processor time, µs. */
  readonly dur?: number;
  readonly tdur?: number;
  readonly args?: {
    readonly name?: string;
    readonly data?: { readonly frames?: readonly { readonly processId?: number; readonly url?: string }[] };
  };
}

/** The page's longest tasks while something goes on, ms. */
export interface Tasks {
  readonly count: number;
  /** By the clock, with all that the machine does besides. */
  readonly wall: number;
  /** What the page itself used of a processor. */
  readonly processor: number;
}

/**
 * Watches the page's own thread while something is done. On a busy machine a task is interrupted by others', so the processor time is told
 * beside the time by the clock.
 */
export async function tasksDuring(page: Page, done: () => Promise<void>): Promise<Tasks> {
  const browser = page.context().browser()!;
  await browser.startTracing(page, { categories: ["disabled-by-default-devtools.timeline", "devtools.timeline"] });
  await done();
  const trace = JSON.parse((await browser.stopTracing()).toString("utf8")) as { traceEvents: readonly TraceEvent[] };
  const events = trace.traceEvents;
  const frames = events.flatMap(({ args }) => args?.data?.frames ?? []);
  const own = new Set(
    frames
      .filter(({ url }) => url === page.url().split("#")[0] || url === page.url())
      .map(({ processId }) => processId),
  );
  const threads = new Set(
    events
      .filter(
        ({ name, args, pid }) =>
          name === "thread_name" && args?.name === "CrRendererMain" && (own.size === 0 || own.has(pid)),
      )
      .map(({ pid, tid }) => `${pid} ${tid}`),
  );
  const tasks = events.filter(({ name, pid, tid }) => name === "RunTask" && threads.has(`${pid} ${tid}`));
  const longest = (of: (event: TraceEvent) => number | undefined): number =>
    tasks.reduce((most, event) => Math.max(most, (of(event) ?? 0) / 1000), 0);
  return { count: tasks.length, wall: longest(({ dur }) => dur), processor: longest(({ tdur }) => tdur) };
}
