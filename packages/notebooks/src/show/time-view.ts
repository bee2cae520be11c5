/** What a reader looks at in the time of a run: shared by the figures, fields and buttons that show it. Times in s since its start. */
export interface TimeView {
  /** The part shown in the close-up; null: the one the run suggests. */
  readonly range: readonly [number, number] | null;
  readonly scale: "auto" | "linear" | "logarithmic";
  /** Where the pointer reads values; null: at the event in hand. */
  readonly pointer: number | null;
  /** Index of the event in hand; null: none. */
  readonly event: number | null;
}

export interface TimeViewStore {
  readonly now: TimeView;
  set(changes: Partial<TimeView>): void;
  /** Called with the new view and the old one; gives the way to stop it. */
  watch(changed: (now: TimeView, before: TimeView) => void): () => void;
}

export function timeViewStore(start: Partial<TimeView> = {}): TimeViewStore {
  const watchers = new Set<(now: TimeView, before: TimeView) => void>();
  let now: TimeView = { range: null, scale: "auto", pointer: null, event: null, ...start };
  return {
    get now() {
      return now;
    },
    set(changes) {
      const before = now;
      now = { ...now, ...changes };
      if ((Object.keys(changes) as (keyof TimeView)[]).every((key) => before[key] === now[key])) return;
      for (const watcher of watchers) watcher(now, before);
    },
    watch(changed) {
      watchers.add(changed);
      return () => watchers.delete(changed);
    },
  };
}
