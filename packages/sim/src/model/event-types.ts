/** What happened to a part of the line. */
export type EventKind =
  | "fault"
  | "load changes"
  | "fires"
  | "stops conducting"
  | "fails short"
  | "starts to open"
  | "clears"
  | "open"
  | "recloses"
  | "limiter trips"
  | "restarts"
  | "over-voltage shutdown"
  | "melts"
  | "contact opens"
  | "contact arc ends"
  | "contact closes"
  | "switched on"
  | "drops out"
  | "comes back"
  | "repeats itself";

/** Which part of the line something is about. */
export interface Subject {
  /** `line`: none in particular. */
  readonly part:
    | "line"
    | "source"
    | "load"
    | "main fuse"
    | "in-line fuse"
    | "crowbar"
    | "own crowbar"
    | "clamp"
    | "load clamp"
    | "series switch";
  /** The source or load it belongs to; the empty text for parts of the line itself. */
  readonly owner: string;
}

/** One event of a run: when (s from the start), what, to which part and why. */
export interface RunEvent {
  readonly time: number;
  /** Exact time since the preceding event (or since the start), s. */
  readonly sincePrevious: number;
  /** What happened. */
  readonly kind: EventKind;
  /** To which part. */
  readonly subject: Subject;
  /** The cause in words, with its numbers. */
  readonly cause: string;
}
