import { formatQuantity, type Judged, type Run } from "@railfault/sim";
import type { Answer } from "../../run/protocol.ts";
import { barsOf, currentAt, lastCurrent } from "./bars.ts";
import { fuseBlown } from "./fuse-blown.ts";
import { laterEndOf } from "./later-end.ts";
import { otherwise } from "./otherwise.ts";
import type { Outcome } from "./outcome-types.ts";
import { capital, roughTime, since, small, the, time } from "./words.ts";

const current = (value: number): string => formatQuantity(value, "current");

/** How long after its fault a run ended, s. */
const watchedFor = ({ scenario }: Run): number => scenario.endTime - scenario.faultTime;

/** What ends the fault of a run; all times after the fault. */
export function outcomeOf({ run, verdict }: Pick<Answer, "run" | "verdict">): Outcome {
  if (verdict.kind !== "verdict")
    return { ending: "unknown", tag: "No verdict", brief: "", sentence: verdict.headline };
  const done = fuseBlown(run, verdict) ?? shorted(run);
  if (done !== null) return done;
  const found =
    tripping(run, verdict) ??
    held(run) ??
    latched(run) ??
    cutOff(run) ??
    goesOnAndOff(run, verdict) ??
    otherwise(run, verdict);
  return verdict.stoppedAt === null ? found : stopped(run, found);
}

/** What was seen of a run that somebody ended: it tells nothing of what would have come. */
function stopped(run: Run, { sentence, seen = sentence }: Outcome): Outcome {
  const after = since(run, run.outcome.time);
  return {
    ending: "stopped",
    tag: "Stopped",
    brief: `after ${after}`,
    sentence: `The run was stopped ${after} after the fault; what comes later is not known. Until then: ${small(seen)}`,
  };
}

function shorted(run: Run): Outcome | null {
  const bar = barsOf(run).find(({ found }) => found.failedShort);
  if (bar === undefined) return null;
  const failed = run.events.find(
    ({ kind, subject }) => kind === "fails short" && subject.part === bar.part && subject.owner === bar.owner,
  );
  const when = failed === undefined ? "" : ` ${since(run, failed.time)} after the fault`;
  const amps = failed === undefined ? null : currentAt(run, bar, failed.time);
  return {
    ending: "shorted",
    tag: "SCR destroyed",
    brief: failed === undefined ? "" : `after ${since(run, failed.time)}`,
    sentence: `The SCR fails short${when}${amps === null ? "" : `, with ${current(amps)} through it`}.`,
  };
}

function tripping(run: Run, verdict: Judged): Outcome | null {
  const found = verdict.tripping.find(({ ended }) => !ended);
  if (found === undefined) return null;
  const later = laterEndOf(run);
  const every = `every ${time(found.period)}`;
  const seen = `A trip ${every}.`;
  if (later === null)
    return {
      ending: "trips",
      tag: "Trips again and again",
      brief: every,
      seen,
      sentence: `${seen} Nothing in the line ends it in the ${time(watchedFor(run))} that were watched.`,
    };
  const after = later.found ? time(later.after) : roughTime(later.after);
  if (later.what === "fuse")
    return {
      ending: "trips",
      tag: "Trips again and again",
      brief: `${every}; fuse melts at ${after}`,
      seen,
      sentence: `${seen} The fuse melts about ${after} after the fault (estimate).`,
      later,
    };
  return {
    ending: "overheats",
    tag: `SCR too hot after ${after}`,
    brief: `after ${after}, trips ${every}`,
    seen,
    sentence: `${seen} Nothing ends it before the SCR gets hotter than it is rated, ${later.found ? `${after} after the fault` : `about ${after} after the fault (estimate)`}.`,
    later,
  };
}

function held(run: Run): Outcome | null {
  const bar = barsOf(run).find(({ found }) => found.conductingAtEnd);
  if (bar === undefined) return null;
  const { crowbar } = run.scenario;
  const amps = lastCurrent(run, bar);
  // A supply that tries again and again may be caught at its limit when the run ends.
  const tries = run.scenario.sources.some((source) => source.kind === "supply" && source.limit.style === "hiccup");
  if (bar.part === "crowbar" && crowbar?.variant === "held" && (tries || (amps ?? 0) <= crowbar.holdingCurrent))
    return fired(run);
  const at = amps === null ? "" : ` at ${current(amps)}`;
  return {
    ending: "held",
    tag: "Held on",
    brief: at.trim(),
    seen: `The SCR is held on${at}.`,
    sentence: `The SCR is held on${at} until somebody switches off.`,
  };
}

/** A gate that is kept on holds no current where its supply gives none. */
function fired(run: Run): Outcome {
  const off = latchedOff(run);
  const gate = "The gate keeps the SCR fired until somebody resets it.";
  return {
    ending: "fired",
    tag: off === null ? "Stays fired" : "Latched off, stays fired",
    brief: "until reset",
    seen: off === null ? "The gate keeps the SCR fired." : `${off.says}, the gate keeps the SCR fired.`,
    sentence: off === null ? gate : `${off.says}. The gate keeps the SCR fired, too: somebody must reset both.`,
  };
}

/** A supply that stays off until somebody switches it off and on: `after` the fault, where the run tells. */
function latchedOff(run: Run): { readonly after: string | null; readonly says: string } | null {
  const source = run.sources.find(({ stateAtEnd }) => stateAtEnd === "latched off");
  if (source === undefined) return null;
  const last = run.events.findLast(
    ({ kind, subject }) =>
      (kind === "limiter trips" || kind === "over-voltage shutdown") && subject.owner === source.name,
  );
  const after = last === undefined ? null : since(run, last.time);
  const does = last?.kind === "over-voltage shutdown" ? "shuts itself down at over-voltage" : "latches off";
  return { after, says: `The supply ${does}${after === null ? "" : ` ${after} after the fault`}` };
}

function latched(run: Run): Outcome | null {
  const off = latchedOff(run);
  if (off === null) return null;
  const letsGo = barsOf(run).some(({ found }) => found.stops.length > 0);
  return {
    ending: "latched",
    tag: "Latched off",
    brief: off.after === null ? "" : `after ${off.after}`,
    sentence: `${off.says}${letsGo ? ", the SCR lets go" : ""}.`,
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

/** A supply that runs into its limit again and again, though no crowbar trips. */
function goesOnAndOff(run: Run, { pending }: Judged): Outcome | null {
  const found = pending.find(({ kind }) => kind === "going on and off");
  if (found === undefined) return null;
  const back = run.events.filter(({ kind, subject }) => kind === "restarts" && subject.owner === found.subject);
  const last = back.length - 1;
  const every = `every ${time(back[last].time - back[last - 1].time)}`;
  const fired = barsOf(run).reduce((sum, { found: { firings } }) => sum + firings.length, 0);
  const bar = fired > 0 ? " after the crowbar has let go" : "";
  const no = fired > 0 ? "Below the trip point nothing" : "Nothing";
  const seen = `${capital(the(found.subject))} goes off at its limit and tries again ${every}${bar}.`;
  return {
    ending: "cycles",
    tag: "Supply goes on and off",
    brief: every,
    seen,
    sentence: `${seen} ${no} in the line ends it in the ${time(watchedFor(run))} that were watched.`,
  };
}
