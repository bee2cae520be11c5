import { findPart } from "@railfault/sim";
import type { Change, Path } from "../../kept/state.ts";
import { applyChanges } from "../../line/apply.ts";
import type { LineNow } from "../../line/line.ts";
import type { RunRequest } from "../../run/protocol.ts";
import type { Found, Task } from "./background.ts";
import { bladeFuses, fuseClass } from "./controls.ts";
import { type Outcome, outcomeOf, tripsOn } from "./outcome.ts";
import { limited } from "./styles.ts";
import { amperes, faultTakes, limitValues, ofSupply, roundOf, seconds, variedSupply } from "./supply.ts";
import { capital, listed, small } from "./words.ts";

/** One value that is varied while everything else stays. */
export interface Sweep {
  readonly name: string;
  /** What is varied, with its verb: `the fuse is rated`. */
  readonly heading: string;
  readonly rungs: (now: LineNow) => readonly Rung[];
}

export interface Rung {
  readonly label: string;
  /** Whether the line stands here. */
  readonly here: boolean;
  readonly changes: readonly Change[];
}

/** A run of the sweep in a word; null outcome: not yet known. */
export interface RungFound {
  readonly rung: Rung;
  readonly outcome: Outcome | null;
}

const DETECTION = [1e-3, 3e-3, 10e-3, 30e-3, 0.1, 0.3, 1, 3];
const LIMITS = [10, 15, 20, 30, 40, 60, 80, 100];
/** A hiccup is followed for so long, s, and for so many rounds at least. */
const FOLLOWED = 10;
const ROUNDS = 8;

export const sweeps: readonly Sweep[] = [
  {
    name: "fuse",
    heading: "Main fuse",
    rungs: (now) => {
      const own = fuseClass(now);
      return bladeFuses.map((name) => ({
        label: rating(name),
        here: name === own,
        changes: [[["main fuse"], name]],
      }));
    },
  },
  {
    name: "detection",
    heading: "Detection time",
    rungs: valued(DETECTION, seconds, ofSupply("limit", "detection time"), ({ detectionTime }) => detectionTime),
  },
  {
    name: "limit",
    heading: "Current limit",
    rungs: valued(LIMITS, amperes, ofSupply("limit", "current"), ({ current }) => current),
  },
];

/** What a fuse of a class is rated for, as a label. */
function rating(name: string): string {
  const value = findPart("fuse", name)?.values.ratedCurrent?.value;
  return typeof value === "number" ? amperes(value) : name;
}

/** Steps of one value, and where the line stands between them. */
function valued(
  steps: readonly number[],
  say: (value: number) => string,
  path: (now: LineNow) => Path,
  own: (values: ReturnType<typeof limitValues>) => number,
): Sweep["rungs"] {
  return (now) => {
    const varied = variedSupply(now);
    if (varied === null) return [];
    const present = own(limitValues(varied.supply));
    return [...new Set([...steps, present])]
      .sort((a, b) => a - b)
      .map((value) => ({ label: say(value), here: value === present, changes: [[path(now), say(value)]] }));
  };
}

/** How long a hiccup of this line is followed, s after the fault. */
export function followed(now: LineNow, least = FOLLOWED): number {
  const varied = variedSupply(now);
  if (varied === null) return least;
  return Math.max(least, faultTakes(varied.supply) + ROUNDS * roundOf(limitValues(varied.supply)));
}

/** The line as a hiccup supply with further changes; null where that cannot be. */
export function hiccupRequest(now: LineNow, changes: readonly Change[], least?: number): RunRequest | null {
  const own = limited(now, "hiccup", followed(now, least));
  if (own === null) return null;
  // First the style, whole, then what is changed in it.
  const { text, refused } = applyChanges(now.text, [...own, ...changes]);
  return refused.length > 0 ? null : { text, file: `${now.title}.yaml` };
}

/** The runs of a sweep, without waveforms. */
export function sweepTasks(sweep: Sweep, now: LineNow): readonly Task[] {
  return sweep.rungs(now).map(({ label, changes }) => ({
    name: label,
    request: () => {
      const request = hiccupRequest(now, changes);
      return request === null ? null : { ...request, record: false, secondRun: false };
    },
  }));
}

export function rungsFound(sweep: Sweep, now: LineNow, found: ReadonlyMap<string, Found>): readonly RungFound[] {
  return sweep.rungs(now).map((rung) => ({ rung, outcome: outcomeOfFound(found.get(rung.label)) }));
}

function outcomeOfFound(found: Found | undefined): Outcome | null {
  if (found === undefined) return null;
  if (found.kind === "answer") return outcomeOf(found.answer);
  const why = found.kind === "failed" ? found.message : (found.issues[0]?.message ?? "");
  return { ending: "unknown", tag: "Not possible", brief: "", sentence: `${capital(why)}` };
}

/** Where the repeated tripping begins and ends along a sweep, and where it destroys the SCR, in a sentence or three. */
export function bounds(heading: string, rungs: readonly RungFound[]): string {
  const known = rungs.flatMap(({ rung, outcome }) =>
    outcome === null || outcome.ending === "unknown" ? [] : [{ label: rung.label, outcome }],
  );
  const trips = known.flatMap(({ outcome }, i) => (tripsOn(outcome) ? [i] : []));
  const [first] = trips;
  const last = trips.at(-1);
  if (first === undefined || last === undefined) return `${heading}: at none of these values it trips again and again.`;
  const at = (i: number): string => known[i].label;
  const hot = known.flatMap(({ label, outcome }) => (outcome.ending === "overheats" ? [label] : []));
  const heat = hot.length === 0 ? "" : ` At ${listed(hot)} the SCR gets hotter than it is rated.`;
  if (trips.length === known.length)
    return `It trips again and again at each of these values, from ${at(first)} to ${at(last)}.${heat}`;
  const range = first === last ? `at ${at(first)} only` : `from ${at(first)} to ${at(last)}`;
  const beside = (i: number): string => (known[i] === undefined ? "" : ` At ${at(i)}: ${small(known[i].outcome.tag)}.`);
  return `It trips again and again ${range}.${heat}${beside(first - 1)}${beside(last + 1)}`;
}
