import type { Run, RunEvent } from "@railfault/sim";

/** The first thing that a protector did. */
export interface Act {
  /** As the beginning of a sentence: `The crowbar fires`. */
  readonly words: string;
  /** s since the start of the run. */
  readonly time: number;
}

/** Words for what a protector does; null for every other event. */
function wordsOf({ kind, subject: { part, owner } }: RunEvent): string | null {
  if (kind === "fires" && part === "crowbar") return "The crowbar fires";
  if (kind === "fires" && part === "own crowbar") return `The ${owner}’s own SCR fires`;
  if (kind === "over-voltage shutdown") return `The ${owner} shuts itself down`;
  if (kind === "starts to open" && part === "series switch") return "The switch begins to open";
  return null;
}

/**
 * What protected first in a run: a crowbar, be it the line's or a supply's own, a supply's shutdown, or a series switch; null where
 * none of them acted.
 *
 * @example firstAct(run)?.words // "The crowbar fires"
 */
export function firstAct({ events }: Pick<Run, "events">): Act | null {
  for (const event of events) {
    const words = wordsOf(event);
    if (words !== null) return { words, time: event.time };
  }
  return null;
}
