import { type CrowbarFindings, formatQuantity, type Judged, type Run } from "@railfault/sim";
import type { Answer } from "../../run/protocol.ts";
import { type LaterEnd, laterEndOf } from "./later-end.ts";
import { roughTime, time } from "./words.ts";

export type Ending =
  | "fuse"
  | "shorted"
  | "trips"
  | "overheats"
  | "held"
  | "fired"
  | "latched"
  | "cut off"
  | "let go"
  | "beyond"
  | "quiet"
  | "unknown";

/** How a fault ended, or why it does not end. */
export interface Outcome {
  readonly ending: Ending;
  /** In a word or two. */
  readonly tag: string;
  /** When or how often, in as few words as fit under the tag. */
  readonly brief: string;
  readonly sentence: string;
  /** Where it trips on: what gives in at last; left out: nothing. */
  readonly later?: LaterEnd;
}

/** Whether a line goes on tripping, harmlessly or not. */
export const tripsOn = ({ ending }: Pick<Outcome, "ending">): boolean => ending === "trips" || ending === "overheats";

const current = (value: number): string => formatQuantity(value, "current");

/** What ends the fault of a run; all times after the fault. */
export function outcomeOf({ run, verdict }: Pick<Answer, "run" | "verdict">): Outcome {
  if (verdict.kind !== "verdict")
    return { ending: "unknown", tag: "No verdict", brief: "", sentence: verdict.headline };
  return (
    fuseBlown(run) ??
    shorted(run) ??
    tripping(run, verdict) ??
    held(run) ??
    latched(run) ??
    cutOff(run) ??
    quiet(run, verdict)
  );
}

interface Bar {
  readonly found: CrowbarFindings;
  /** Of the trace. */
  readonly column: string;
}

/** The line's SCR and those inside its supplies. */
function barsOf(run: Run): readonly Bar[] {
  const own = run.ownCrowbars.map(({ source, findings }) => ({
    found: findings,
    column: `${source.replaceAll(/\s+/g, "_")}_own_crowbar_A`,
  }));
  return run.crowbar === null ? own : [{ found: run.crowbar, column: "crowbar_A" }, ...own];
}

const since = (run: Run, instant: number): string => time(instant - run.scenario.faultTime);

function fuseBlown(run: Run): Outcome | null {
  const open = run.fuses.filter(({ openTime }) => openTime !== null);
  const first = open.toSorted((a, b) => (a.openTime ?? 0) - (b.openTime ?? 0))[0];
  if (first?.openTime == null) return null;
  const trips = run.crowbar?.firings.filter((at) => at <= (first.openTime ?? 0)).length ?? 0;
  const which = trips > 1 ? `, at trip number ${trips}` : "";
  return {
    ending: "fuse",
    tag: "Fuse blown",
    brief: `after ${since(run, first.openTime)}${trips > 1 ? `, trip ${trips}` : ""}`,
    sentence: `The ${first.label} is open ${since(run, first.openTime)} after the fault${which}.`,
  };
}

function shorted(run: Run): Outcome | null {
  const bar = barsOf(run).find(({ found }) => found.failedShort);
  if (bar === undefined) return null;
  const failed = run.events.find(({ kind, subject }) => kind === "fails short" && subject.part.endsWith("crowbar"));
  const when = failed === undefined ? "" : ` ${since(run, failed.time)} after the fault`;
  const amps = lastCurrent(run, bar);
  const by = amps === null ? "" : `Held on at ${current(amps)}, `;
  return {
    ending: "shorted",
    tag: "SCR destroyed",
    brief: failed === undefined ? "" : `after ${since(run, failed.time)}`,
    sentence: `${by}${by ? "the" : "The"} SCR fails short${when}.`,
  };
}

function tripping(run: Run, verdict: Judged): Outcome | null {
  const found = verdict.tripping.find(({ ended }) => !ended);
  if (found === undefined) return null;
  const later = laterEndOf(run);
  const every = `every ${time(found.period)}`;
  if (later === null)
    return {
      ending: "trips",
      tag: "Trips again and again",
      brief: every,
      sentence: `A trip ${every}. Nothing in the line ends it.`,
    };
  const after = roughTime(later.after);
  if (later.what === "fuse")
    return {
      ending: "trips",
      tag: "Trips again and again",
      brief: `${every}; fuse melts at ${after}`,
      sentence: `A trip ${every}. The fuse melts about ${after} after the fault (estimate).`,
      later,
    };
  return {
    ending: "overheats",
    tag: `SCR too hot after ${after}`,
    brief: `after ${after}, trips ${every}`,
    sentence: `A trip ${every}. Nothing ends it before the SCR gets hotter than it is rated, about ${after} after the fault (estimate).`,
    later,
  };
}

function held(run: Run): Outcome | null {
  const bar = barsOf(run).find(({ found }) => found.conductingAtEnd);
  if (bar === undefined) return null;
  const { crowbar } = run.scenario;
  // A supply that tries again and again may be caught at its limit when the run ends.
  const tries = run.scenario.sources.some((source) => source.kind === "supply" && source.limit.style === "hiccup");
  if (crowbar?.variant === "held" && (tries || (lastCurrent(run, bar) ?? 0) <= crowbar.holdingCurrent))
    return {
      ending: "fired",
      tag: "Stays fired",
      brief: "until reset",
      sentence: "The gate keeps the SCR fired until somebody resets it.",
    };
  const amps = lastCurrent(run, bar);
  const at = amps === null ? "" : ` at ${current(amps)}`;
  return {
    ending: "held",
    tag: "Held on",
    brief: at.trim(),
    sentence: `The SCR is held on${at} until somebody switches off.`,
  };
}

function latched(run: Run): Outcome | null {
  if (!run.sources.some(({ stateAtEnd }) => stateAtEnd === "latched off")) return null;
  const last = run.events.findLast(({ kind }) => kind === "limiter trips" || kind === "over-voltage shutdown");
  const when = last === undefined ? "" : ` ${since(run, last.time)} after the fault`;
  return {
    ending: "latched",
    tag: "Latched off",
    brief: last === undefined ? "" : `after ${since(run, last.time)}`,
    sentence: `The supply latches off${when}, the SCR lets go.`,
  };
}

function cutOff(run: Run): Outcome | null {
  const { seriesSwitch } = run;
  const opened = seriesSwitch?.opens.at(-1);
  if (seriesSwitch == null || seriesSwitch.state === "closed" || opened === undefined) return null;
  const when = since(run, opened);
  return {
    ending: "cut off",
    tag: "Cut off",
    brief: `after ${when}`,
    sentence: `The series switch is open ${when} after the fault.`,
  };
}

function quiet(run: Run, { grade }: Judged): Outcome {
  if (grade === "beyond")
    return {
      ending: "beyond",
      tag: "Radio endangered",
      brief: "",
      sentence: "Nothing ends it before the radio sees more than it stands.",
    };
  const fired = barsOf(run).reduce((sum, { found }) => sum + found.firings.length, 0);
  if (fired > 0)
    return {
      ending: "let go",
      tag: "Let go",
      brief: `fired ${counted(fired)}`,
      sentence: `The crowbar fired ${counted(fired)} and let go; no fuse blew.`,
    };
  const what =
    barsOf(run).length === 0 ? "There is no crowbar, and no fuse blew." : "The crowbar never fired, no fuse blew.";
  return { ending: "quiet", tag: "Nothing happened", brief: "", sentence: what };
}

const counted = (count: number): string => (count === 1 ? "once" : `${count} times`);

/** Current through an SCR at the end of a run, A. */
function lastCurrent(run: Run, { column }: Bar): number | null {
  return run.trace.columns.find(({ name }) => name === column)?.values.at(-1) ?? null;
}
