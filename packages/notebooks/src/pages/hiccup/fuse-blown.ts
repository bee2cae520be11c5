import type { Judged, Run } from "@railfault/sim";
import { ableToBreak } from "../../show/able-to-break.ts";
import type { Outcome } from "./outcome-types.ts";
import { since } from "./words.ts";

/** The first fuse that opened, and whether it is able to; null where none did. */
export function fuseBlown(run: Run, verdict: Judged): Outcome | null {
  const open = run.fuses.filter(({ openTime }) => openTime !== null);
  const first = open.toSorted((a, b) => (a.openTime ?? 0) - (b.openTime ?? 0))[0];
  if (first?.openTime == null) return null;
  const at = first.openTime;
  const trips = run.crowbar?.firings.filter((firing) => firing <= at).length ?? 0;
  const which = trips > 1 ? `, at trip number ${trips}` : "";
  const brief = `after ${since(run, at)}${trips > 1 ? `, trip ${trips}` : ""}`;
  const opens = `The ${first.label} is open ${since(run, at)} after the fault${which}.`;
  const able = ableToBreak(verdict, first);
  if (able === null)
    return {
      ending: "fuse in doubt",
      tag: "Fuse blown",
      brief,
      sentence: `${opens} What direct current it is able to break is not known.`,
    };
  if (!able)
    return {
      ending: "fuse bursts",
      tag: "The fuse may burst",
      brief,
      sentence: `The ${first.label} faces more than it is able to break: ${since(run, at)} after the fault${which} it may burst or go on burning.`,
    };
  return { ending: "fuse", tag: "Fuse blown", brief, sentence: opens };
}
