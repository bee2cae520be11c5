import type { Run } from "../../model/result.ts";
import { isBeyond } from "../../verdict/exit-status.ts";
import type { Judged, Verdict } from "../../verdict/types.ts";

/** What came of one run, in the order in which a worse one goes before a better one. */
export const OUTCOMES = [
  "cannot be run",
  "no verdict",
  "load beyond what it stands",
  "load above its maximum, within what it stands",
  "load safe, SCR beyond its rating",
  "load safe, something else beyond its rating",
  "load safe, tripping again and again",
  "load safe, SCR kept on",
  "load safe, fuse blown",
  "load safe, switched off",
  "load safe, tripped and over",
  "load safe, nothing acted",
] as const;

/** How one run of a study ended, the worst first. */
export type Outcome = (typeof OUTCOMES)[number];

/** What no outcome says, for whoever reads one: a second run for every melted fuse would double the work of a study. */
export const BREAKING_UNKNOWN =
  "Whether a fuse that melted is able to break the current it faced is not looked at here: `railfault run` tells, for each value by itself.";

/** Whether an outcome counts as a load endangered: above its maximum for however long. */
export function isEndangered(outcome: Outcome): boolean {
  return outcome === "load beyond what it stands" || outcome === "load above its maximum, within what it stands";
}

/** Whether an outcome tells anything about the load. */
export function isTold(outcome: Outcome): boolean {
  return outcome !== "cannot be run" && outcome !== "no verdict";
}

/**
 * The one word for a run: the worst that can be said of it.
 *
 * @example outcomeOf(run, verdict) // "load safe, fuse blown"
 */
export function outcomeOf(run: Run, verdict: Verdict): Outcome {
  if (verdict.kind === "not a verdict") return "no verdict";
  if (verdict.grade === "beyond") return "load beyond what it stands";
  if (!verdict.safe) return "load above its maximum, within what it stands";
  const beyond = verdict.findings.filter(isBeyond);
  if (beyond.some(({ subject }) => isBar(run, subject))) return "load safe, SCR beyond its rating";
  if (beyond.length > 0) return "load safe, something else beyond its rating";
  return ended(run, verdict);
}

/** A source may be called what it likes. */
function isBar({ crowbar, ownCrowbars }: Run, subject: string): boolean {
  return subject === "crowbar" ? crowbar !== null : ownCrowbars.length > 0 && subject.startsWith("own crowbar of ");
}

function ended(run: Run, verdict: Judged): Outcome {
  const bars = [...(run.crowbar === null ? [] : [run.crowbar]), ...run.ownCrowbars.map(({ findings }) => findings)];
  if (verdict.tripping.some(({ ended }) => !ended)) return "load safe, tripping again and again";
  if (bars.some(({ conductingAtEnd }) => conductingAtEnd)) return "load safe, SCR kept on";
  if (run.fuses.some(({ meltTime }) => meltTime !== null)) return "load safe, fuse blown";
  const opened = run.seriesSwitch !== null && run.seriesSwitch.state !== "closed";
  if (opened || run.sources.some(({ stateAtEnd }) => stateAtEnd === "latched off")) return "load safe, switched off";
  const acted = bars.some(({ firings }) => firings.length > 0) || (run.seriesSwitch?.starts.length ?? 0) > 0;
  return acted ? "load safe, tripped and over" : "load safe, nothing acted";
}
