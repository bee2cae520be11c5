/** A clock that calls back; passed in so that tests need not wait. */
export interface Timers {
  set(action: () => void, delay_ms: number): unknown;
  clear(timer: unknown): void;
}

/** The surroundings' own. */
export const systemTimers: Timers = {
  set: (action, delay_ms) => setTimeout(action, delay_ms),
  clear: (timer) => clearTimeout(timer as ReturnType<typeof setTimeout>),
};
