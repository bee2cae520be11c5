/** One change: how the value stood before or after it, and what it is called. */
interface Step<T> {
  readonly label: string;
  readonly value: T;
}

/** A value with what it was before and what was taken back. Immutable, like the values in it. */
export interface Track<T> {
  readonly value: T;
  /** Values before each change, oldest first, with the change's label. */
  readonly past: readonly Step<T>[];
  /** Values after each change that was taken back, next one last. */
  readonly future: readonly Step<T>[];
  /** The last change, while further ones of its kind may still join it. */
  readonly open: { readonly key: string; readonly at_ms: number } | null;
}

/** One change of a value. */
export interface TrackChange<T> {
  readonly value: T;
  /** What undo and redo call it: "main fuse: blade fuse 15 A". */
  readonly label: string;
  /** Changes with the same key within 600 ms are one: a slider that is being moved. Left out: a change on its own. */
  readonly key?: string;
  /** When, ms on a clock that only goes forward. */
  readonly at_ms: number;
}

/** Changes of one kind that follow within this time are one. */
const JOIN_MS = 600;
/** How many changes can be taken back. */
export const MOST_STEPS = 200;

/** A value with no changes yet. */
export function startTrack<T>(value: T): Track<T> {
  return { value, past: [], future: [], open: null };
}

/** The track after a change; what was taken back before is gone. The same value again is no change. */
export function changeTrack<T>(track: Track<T>, change: TrackChange<T>): Track<T> {
  if (Object.is(change.value, track.value)) return track;
  const { value, label, key, at_ms } = change;
  const open = key === undefined ? null : { key, at_ms };
  const last = track.past.at(-1);
  const since_ms = track.open === null ? Number.POSITIVE_INFINITY : at_ms - track.open.at_ms;
  const joins = last !== undefined && track.open?.key === key && since_ms >= 0 && since_ms <= JOIN_MS;
  const past = joins
    ? [...track.past.slice(0, -1), { label, value: last.value }]
    : [...track.past, { label, value: track.value }].slice(-MOST_STEPS);
  return { value, past, future: [], open };
}

/** The track with its last change taken back; the same track when there is none. */
export function undoTrack<T>(track: Track<T>): Track<T> {
  const last = track.past.at(-1);
  if (last === undefined) return track;
  const future = [...track.future, { label: last.label, value: track.value }];
  return { value: last.value, past: track.past.slice(0, -1), future, open: null };
}

/** The track with the change made again that was taken back last; the same track when there is none. */
export function redoTrack<T>(track: Track<T>): Track<T> {
  const next = track.future.at(-1);
  if (next === undefined) return track;
  const past = [...track.past, { label: next.label, value: track.value }];
  return { value: next.value, past, future: track.future.slice(0, -1), open: null };
}

/** The track with its value in another form, as part of the last change: undo and redo do not see it. */
function replaceInTrack<T>(track: Track<T>, value: T): Track<T> {
  return Object.is(value, track.value) ? track : { ...track, value, open: null };
}

/** A value with undo and redo that tells who listens. */
export interface History<T> {
  readonly value: T;
  /** What undo would take back; null when there is nothing. */
  readonly undoLabel: string | null;
  /** What redo would make again; null when there is nothing. */
  readonly redoLabel: string | null;
  change(value: T, label: string, key?: string): void;
  /** Puts the value into another form without a step: it was kept under a name. */
  replace(value: T): void;
  /** The next change starts anew even if it is of the same kind: a slider was let go. */
  settle(): void;
  undo(): void;
  redo(): void;
  /** Starts over with another value: another line was opened. Nothing can be taken back. */
  restart(value: T): void;
  /** Calls back after each change of the value or of what can be undone; gives what ends it. */
  listen(listener: (history: History<T>) => void): () => void;
}

/**
 * Keeps a value with its changes, up to 200 of them.
 *
 * @param value where it begins; immutable
 * @param now a clock that only goes forward, ms: `() => performance.now()`
 *
 * @example
 * const history = keepHistory(state, () => performance.now());
 * history.listen(({ value }) => draw(value));
 * history.change({ ...state, changes }, "main fuse: blade fuse 15 A", "main fuse");
 * history.undo();
 */
export function keepHistory<T>(value: T, now: () => number): History<T> {
  return new Kept(startTrack(value), now);
}

class Kept<T> implements History<T> {
  private readonly listeners = new Set<(history: History<T>) => void>();

  constructor(
    private track: Track<T>,
    private readonly now: () => number,
  ) {}

  get value(): T {
    return this.track.value;
  }

  get undoLabel(): string | null {
    return this.track.past.at(-1)?.label ?? null;
  }

  get redoLabel(): string | null {
    return this.track.future.at(-1)?.label ?? null;
  }

  change(value: T, label: string, key?: string): void {
    const change = { value, label, at_ms: this.now() };
    this.move(changeTrack(this.track, key === undefined ? change : { ...change, key }));
  }

  replace(value: T): void {
    this.move(replaceInTrack(this.track, value));
  }

  settle(): void {
    this.track = { ...this.track, open: null };
  }

  undo(): void {
    this.move(undoTrack(this.track));
  }

  redo(): void {
    this.move(redoTrack(this.track));
  }

  restart(value: T): void {
    this.move(startTrack(value));
  }

  listen(listener: (history: History<T>) => void): () => void {
    // A listener may be handed in twice; each has its own end.
    const own = (history: History<T>): void => listener(history);
    this.listeners.add(own);
    return () => this.listeners.delete(own);
  }

  private move(track: Track<T>): void {
    if (track === this.track) return;
    this.track = track;
    for (const listener of this.listeners) listener(this);
  }
}
