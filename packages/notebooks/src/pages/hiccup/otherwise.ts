import { formatQuantity, type Judged, type Run, type RunEvent } from "@railfault/sim";
import { barsOf } from "./bars.ts";
import type { Outcome } from "./outcome-types.ts";
import { capital, counted, listed, since, the } from "./words.ts";

/** Of a fuse that came this far something is worth a word. */
const WARM = 0.5;

/** What is left to tell of a run that nothing ended and in which nothing goes on. */
export function otherwise(run: Run, { grade }: Judged): Outcome {
  if (grade === "beyond")
    return {
      ending: "beyond",
      tag: "Radio endangered",
      brief: "",
      seen: "The radio sees more than it stands.",
      sentence: "Nothing ends it before the radio sees more than it stands.",
    };
  return letGo(run) ?? opened(run) ?? restarted(run) ?? clampGone(run) ?? untripped(run);
}

const before = (run: Run): string => (run.fuses.length === 0 ? "" : " No fuse blew.");

function letGo(run: Run): Outcome | null {
  const fired = barsOf(run).reduce((sum, { found }) => sum + found.firings.length, 0);
  if (fired === 0) return null;
  return {
    ending: "let go",
    tag: "Let go",
    brief: `fired ${counted(fired)}`,
    sentence: `The crowbar fired ${counted(fired)} and let go.${before(run)}`,
  };
}

function opened(run: Run): Outcome | null {
  const opens = run.seriesSwitch?.opens.length ?? 0;
  if (opens === 0) return null;
  return {
    ending: "let go",
    tag: "Opened and closed",
    brief: counted(opens),
    sentence: `The series switch opened ${counted(opens)} and closed again.${before(run)}`,
  };
}

function restarted(run: Run): Outcome | null {
  const off = run.events.filter(({ kind }) => kind === "over-voltage shutdown" || kind === "limiter trips");
  const first = off[0];
  if (first === undefined) return null;
  const why = first.kind === "over-voltage shutdown" ? "at its own over-voltage" : "at its limit";
  const back = run.events.some(({ kind, subject }) => kind === "restarts" && subject.owner === first.subject.owner);
  return {
    ending: "let go",
    tag: back ? "Off and on again" : "Supply off",
    brief: `off ${counted(off.length)}`,
    sentence: `${capital(the(first.subject.owner))} went off ${why} ${since(run, first.time)} after the fault${back ? ` and restarted (off ${counted(off.length)} in all)` : ""}.${before(run)}`,
  };
}

function clampGone(run: Run): Outcome | null {
  const failed = run.events.find(({ kind, subject }) => kind === "fails short" && subject.part.endsWith("clamp"));
  if (failed === undefined) return null;
  return {
    ending: "beyond",
    tag: "Clamp destroyed",
    brief: `after ${since(run, failed.time)}`,
    sentence: `The clamp fails short ${since(run, failed.time)} after the fault.${before(run)}`,
  };
}

/** Nothing protected: which is not to say that nothing happened. */
function untripped(run: Run): Outcome {
  const { faultTime } = run.scenario;
  const dropped = owners(run.events.filter(({ kind, time }) => kind === "drops out" && time >= faultTime));
  const hungry = run.loads.filter(({ name, belowMinimum }) => belowMinimum.total > 0 && !dropped.includes(name));
  const limiting = run.sources.filter(({ stateAtEnd }) => stateAtEnd === "limiting" || stateAtEnd === "off");
  const warm = run.fuses.filter(({ peakTheta }) => peakTheta >= WARM);
  const melted = run.fuses.filter(({ meltTime }) => meltTime !== null);
  const did = [
    dropped.length === 0 ? "" : `${listed(dropped.map(the))} dropped out`,
    hungry.length === 0 ? "" : `${listed(hungry.map(({ name }) => the(name)))} lacked supply for a while`,
    limiting.length === 0 ? "" : `${listed(limiting.map(({ name }) => the(name)))} ended at its limit`,
    melted.length > 0 || warm.length === 0
      ? ""
      : `${listed(warm.map(({ label, peakTheta }) => `the ${label} came ${formatQuantity(peakTheta, "ratio")} of the way to melting`))}`,
    melted.length === 0 ? "" : `${listed(melted.map(({ label }) => `the ${label} melted and is not open`))}`,
  ].filter((each) => each !== "");
  const bar = barsOf(run).length === 0 ? "There is no crowbar" : "The crowbar never fired";
  const fuses = run.fuses.length === 0 ? "" : ", and no fuse blew";
  const more = did.length === 0 ? "" : ` ${capital(listed(did))}.`;
  const worked = run.events.some(({ kind, time }) => time >= faultTime && kind.startsWith("contact"));
  return {
    ending: "quiet",
    tag: dropped.length > 0 ? "Dropped out" : did.length > 0 || worked ? "Nothing tripped" : "Nothing happened",
    brief: "",
    sentence: `${bar}${fuses}.${more}`,
  };
}

const owners = (events: readonly RunEvent[]): readonly string[] => [
  ...new Set(events.map(({ subject }) => subject.owner)),
];
