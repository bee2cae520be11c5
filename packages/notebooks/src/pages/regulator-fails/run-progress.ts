import type { OpenedLine } from "../../line/open.ts";
import { progressView } from "../../show/index.ts";

/**
 * How far the first of some runs that is still under way has come, with a button that ends them all.
 *
 * @param names of the page's runs, in the order in which they are told
 * @example const progress = runProgress(opened, ["near", "far", "none"]); invalidation.then(progress.leave);
 */
export function runProgress(
  opened: Pick<OpenedLine, "runs" | "stop">,
  names: readonly string[],
): { readonly element: HTMLElement; leave(): void } {
  const stopAll = (): void => {
    for (const name of names) opened.stop(name);
  };
  const progress = progressView(document, { stop: stopAll });
  const leave = opened.runs((map) => {
    const running = names.flatMap((name) => {
      const run = map.get(name);
      return run?.status === "running" ? [run] : [];
    });
    const told = running.find((run) => run.progress !== null)?.progress ?? null;
    if (told !== null) progress.show(told.time, told.end);
    else if (running.length === 0) progress.done();
  });
  return { element: progress.element, leave };
}
