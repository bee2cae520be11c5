import type { LaterEnd } from "./later-end.ts";

export type Ending =
  | "fuse"
  | "fuse in doubt"
  | "fuse bursts"
  | "shorted"
  | "trips"
  | "overheats"
  | "cycles"
  | "held"
  | "fired"
  | "latched"
  | "cut off"
  | "let go"
  | "beyond"
  | "quiet"
  | "watched"
  | "stopped"
  | "unknown";

/** How a fault ended, or why it does not end. */
export interface Outcome {
  readonly ending: Ending;
  /** In a word or two. */
  readonly tag: string;
  /** When or how often, in as few words as fit under the tag. */
  readonly brief: string;
  readonly sentence: string;
  /** The same without a last word, for a run that may not have seen the end; left out: the sentence has none. */
  readonly seen?: string;
  /** Where it trips on: what gives in at last; left out: nothing. */
  readonly later?: LaterEnd;
}

/** Whether a line goes on tripping, harmlessly or not. */
export const tripsOn = ({ ending }: Pick<Outcome, "ending">): boolean => ending === "trips" || ending === "overheats";

/** Whether a fuse opens, whatever becomes of it. */
export const blows = ({ ending }: Pick<Outcome, "ending">): boolean =>
  ending === "fuse" || ending === "fuse in doubt" || ending === "fuse bursts";
