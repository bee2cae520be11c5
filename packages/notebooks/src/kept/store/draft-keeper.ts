import type { Problem } from "../problem.ts";
import type { PageState } from "../state.ts";
import type { Store } from "../store.ts";
import { systemTimers, type Timers } from "../timers.ts";

const DELAY_MS = 400;

export interface DraftOptions {
  readonly store: Pick<Store, "saveDraft">;
  readonly page: string;
  /** Where `pagehide` is heard: the window. */
  readonly events: Pick<EventTarget, "addEventListener" | "removeEventListener">;
  /** Why the draft is not kept; null when it is again. Told once each time it changes. */
  readonly onProblem: (problem: Problem | null) => void;
  readonly timers?: Timers;
}

/** Keeps what a page has in hand. */
export interface DraftKeeper {
  /** Keeps a state, 400 ms after the last call. */
  put(state: PageState): void;
  /** Keeps at once what still waits; done when it is kept or its problem was told. */
  flush(): Promise<void>;
  /** Keeps what waits and hears no more. */
  stop(): Promise<void>;
}

/**
 * Keeps a page's draft in the store while it changes, one save after the other, so that an older one never lands last.
 *
 * @example
 * const draft = keepDraft({ store, page: "regulator-fails", events: window, onProblem: say });
 * history.listen(({ value }) => draft.put(value));
 */
export function keepDraft({ store, page, events, onProblem, timers = systemTimers }: DraftOptions): DraftKeeper {
  let waiting: { readonly state: PageState; readonly timer: unknown } | null = null;
  let saving: Promise<void> = Promise.resolve();
  let told: string | null = null;

  const save = async (state: PageState): Promise<void> => {
    const saved = await store.saveDraft(page, state);
    const problem = saved.kind === "problem" ? saved.problem : null;
    if ((problem?.code ?? null) === told) return;
    told = problem?.code ?? null;
    onProblem(problem);
  };
  const flush = (): Promise<void> => {
    if (waiting === null) return saving;
    const { state, timer } = waiting;
    waiting = null;
    timers.clear(timer);
    saving = saving.then(() => save(state));
    return saving;
  };
  const hidden = (): void => void flush();

  events.addEventListener("pagehide", hidden);
  return {
    put: (state) => {
      if (waiting !== null) timers.clear(waiting.timer);
      waiting = { state, timer: timers.set(hidden, DELAY_MS) };
    },
    flush,
    stop: () => {
      events.removeEventListener("pagehide", hidden);
      return flush();
    },
  };
}
