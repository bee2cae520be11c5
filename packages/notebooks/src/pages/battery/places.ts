import { findPart } from "@railfault/sim";
import type { Change, Path } from "../../kept/state.ts";
import type { LineNow } from "../../line/line.ts";
import type { RunMap, Scheme, SchemeRun } from "../../line/runs.ts";
import { batteryOf, fuseClassOf, ofBattery, readable, written } from "./part-of-line.ts";

/** Where a fuse may stand on the way from a battery to the crowbar and the radio. */
export interface FusePlace {
  readonly name: string;
  readonly title: string;
  /** What it means for the current of the crowbar. */
  readonly means: string;
}

export const fusePlaces: readonly FusePlace[] = [
  {
    name: "near",
    title: "Right at the battery",
    means: "All that the battery gives passes the fuse: what flows into the crowbar, and into a chafed wire.",
  },
  {
    name: "far",
    title: "At the radio’s end",
    means: "The crowbar stands before the fuse: only the wire limits what flows into it.",
  },
  { name: "none", title: "No fuse at all", means: "Only the battery, the wire and the SCR limit the current." },
];

/** Compared where the line's own battery has no fuse of a known class. */
const USUAL_FUSE = "blade fuse 20 A";

/** The fuse whose place is looked at. */
export function comparedFuse(now: LineNow): string {
  const own = fuseClassOf(now, ofBattery("lead", "fuse")(now)) ?? fuseClassOf(now, ["main fuse"]);
  return own !== null && findPart("fuse", own) !== null ? own : USUAL_FUSE;
}

/** Whether a line has what the comparison is about: a battery and a crowbar. */
export function placesMatter(now: LineNow): boolean {
  const scenario = readable(now);
  return scenario !== null && scenario.crowbar !== null && scenario.sources[batteryOf(now)] !== undefined;
}

/** The line with the same fuse in one place and in no other; null where it makes no sense or the line is so already. */
function movedTo(place: string, now: LineNow): readonly Change[] | null {
  if (!placesMatter(now)) return null;
  const scenario = readable(now);
  const atBattery = ofBattery("lead", "fuse")(now);
  const atLoads = (scenario?.loads ?? []).map((_, index): Path => ["loads", index, "lead", "fuse"]);
  const wanted = place === "near" ? [atBattery] : place === "far" ? atLoads : [];
  const fuse = comparedFuse(now);
  const all: readonly Path[] = [["main fuse"], atBattery, ...atLoads];
  const changes = all.flatMap((path): readonly Change[] => {
    const there = written(now, path);
    if (!wanted.includes(path)) return there ? [[path, null]] : [];
    return fuseClassOf(now, path) === fuse ? [] : [[path, fuse]];
  });
  return changes.length === 0 ? null : changes;
}

/** The runs of the comparison. */
export const placeSchemes: readonly Scheme[] = fusePlaces.map(({ name, title }) => ({
  name,
  label: title,
  after: "line",
  changes: (now) => movedTo(name, now),
}));

/** The run of a place; where the line's fuse stands there already, the line's own. */
export function runOfPlace(runs: RunMap, name: string, now: LineNow): SchemeRun | null {
  if (!placesMatter(now)) return null;
  return runs.get(name) ?? runs.get("line") ?? null;
}
