import type { RunRequest } from "../run/protocol.ts";
import type { RunHandlers, Runner } from "../run/runner.ts";

/** A run that has begun less than this long ago is let finish before the next one takes its place, ms. */
const PATIENCE_MS = 120;

interface Slot {
  readonly since: number;
  readonly next: { readonly request: RunRequest; readonly handlers: RunHandlers } | null;
  readonly timer: ReturnType<typeof setTimeout> | null;
}

/**
 * A runner for sliders in motion: were each position to cancel the one before, no picture would ever come while a hand
 * moves faster than a run. Of the positions that come meanwhile only the newest is run.
 *
 * @example patientRunner(createRunner()).run("line", request, handlers)
 */
export function patientRunner(runner: Runner, clock: () => number = () => performance.now()): Runner {
  const slots = new Map<string, Slot>();

  const begin = (slot: string, request: RunRequest, handlers: RunHandlers): void => {
    slots.set(slot, { since: clock(), next: null, timer: null });
    runner.run(slot, request, {
      ...(handlers.progress === undefined ? {} : { progress: handlers.progress }),
      answer: (answer) => ended(slot, () => handlers.answer(answer)),
      refused: (issues) => ended(slot, () => handlers.refused(issues)),
      failed: (message) => ended(slot, () => handlers.failed(message)),
    });
  };
  const ended = (slot: string, tell: () => void): void => {
    const next = forget(slot);
    // First: the thread computes while the page draws.
    if (next !== null) begin(slot, next.request, next.handlers);
    tell();
  };
  const forget = (slot: string): Slot["next"] => {
    const { timer = null, next = null } = slots.get(slot) ?? {};
    if (timer !== null) clearTimeout(timer);
    slots.delete(slot);
    return next;
  };
  const replace = (slot: string): void => {
    const next = forget(slot);
    if (next !== null) begin(slot, next.request, next.handlers);
  };

  return {
    run(slot, request, handlers) {
      const running = slots.get(slot);
      const left = running === undefined ? 0 : running.since + PATIENCE_MS - clock();
      if (running === undefined || left <= 0) {
        forget(slot);
        begin(slot, request, handlers);
        return;
      }
      const timer = running.timer ?? setTimeout(() => replace(slot), left);
      slots.set(slot, { ...running, next: { request, handlers }, timer });
    },
    stop(slot) {
      // What still waits is what is wanted; the old run is not worth a verdict.
      if ((slots.get(slot)?.next ?? null) !== null) replace(slot);
      runner.stop(slot);
    },
    cancel(slot) {
      forget(slot);
      runner.cancel(slot);
    },
    dispose() {
      for (const slot of slots.keys()) forget(slot);
      runner.dispose();
    },
  };
}
