import { drawOnTransmit, findPart } from "@railfault/sim";
import type { Change, Path } from "../../kept/state.ts";
import { textForRun } from "../../line/for-run.ts";
import type { LineNow } from "../../line/line.ts";
import type { RunRequest } from "../../run/protocol.ts";
import type { Found, Task } from "./background.ts";
import { bladeFuses, fuseClass } from "./controls.ts";
import { outcomeOf } from "./outcome.ts";
import { type Outcome, tripsOn } from "./outcome-types.ts";
import { followed, limited } from "./styles.ts";
import { amperes, type LimitValues, limitValues, ofSupply, seconds, variedSupply } from "./supply.ts";
import { type Holds, holdsTagged } from "./transmit.ts";
import { capital, listed, small, whyRefused } from "./words.ts";

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
  /** What of the supply's limit is not the line's own. */
  readonly changed?: Partial<LimitValues>;
}

/** A run of the sweep in a word; null outcome: not yet known. */
export interface RungFound {
  readonly rung: Rung;
  readonly outcome: Outcome | null;
  /** Of a fuse that is tried: whether it carries what the loads draw on transmit; left out: not known, or no fuse is tried. */
  readonly carries?: Holds;
}

const DETECTION = [1e-3, 3e-3, 10e-3, 30e-3, 0.1, 0.3, 1, 3];
const LIMITS = [10, 15, 20, 30, 40, 60, 80, 100];

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
    rungs: valued(DETECTION, seconds, ofSupply("limit", "detection time"), "detectionTime"),
  },
  {
    name: "limit",
    heading: "Current limit",
    rungs: valued(LIMITS, amperes, ofSupply("limit", "current"), "current"),
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
  key: keyof LimitValues,
): Sweep["rungs"] {
  return (now) => {
    const varied = variedSupply(now);
    if (varied === null) return [];
    const present = limitValues(varied.supply)[key];
    return [...new Set([...steps, present])]
      .sort((a, b) => a - b)
      .map((value) => ({
        label: say(value),
        here: value === present,
        changes: [[path(now), say(value)]],
        changed: { [key]: value },
      }));
  };
}

/**
 * The line as a hiccup supply with further changes; null where that cannot be.
 *
 * @param span how long it is watched, s after the fault; left out: as long as it takes to tell how it ends
 */
export function hiccupRequest(now: LineNow, changes: readonly Change[], span = followed(now)): RunRequest | null {
  const own = limited(now, "hiccup", span);
  if (own === null) return null;
  // First the style, whole, then what is changed in it.
  const { text, refused } = textForRun(now.text, [...own, ...changes]);
  return refused.length > 0 ? null : { text, file: `${now.title}.yaml` };
}

/** The runs of a sweep, without waveforms; a fuse that melts is run once more for what it has to break. */
export function sweepTasks(sweep: Sweep, now: LineNow): readonly Task[] {
  return sweep.rungs(now).map(({ label, changes, changed }) => ({
    name: label,
    request: () => {
      const request = hiccupRequest(now, changes, followed(now, changed));
      return request === null ? null : { ...request, record: false };
    },
  }));
}

export function rungsFound(sweep: Sweep, now: LineNow, found: ReadonlyMap<string, Found>): readonly RungFound[] {
  const draw = sweep.name === "fuse" ? drawOnTransmit(now.parsed) : null;
  return sweep.rungs(now).map((rung) => {
    const each = found.get(rung.label);
    const scenario = each?.kind === "answer" ? each.answer.scenario : null;
    const fuse = scenario?.mainFuse ?? null;
    const outcome = outcomeOfFound(each);
    if (draw === null || scenario === null || fuse === null) return { rung, outcome };
    return { rung, outcome, carries: holdsTagged(fuse, draw, scenario.ambient) };
  });
}

function outcomeOfFound(found: Found | undefined): Outcome | null {
  if (found === undefined) return null;
  if (found.kind === "answer") return outcomeOf(found.answer);
  const why = found.kind === "failed" ? found.message : whyRefused(found.issues);
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
  const cycling = known.flatMap(({ label, outcome }) => (outcome.ending === "cycles" ? [label] : []));
  const below = cycling.length === 0 ? "" : ` At ${listed(cycling)} the supply goes on and off without a trip.`;
  if (first === undefined || last === undefined)
    return `${heading}: at none of these values it trips again and again.${below}`;
  const at = (i: number): string => known[i].label;
  const hot = known.flatMap(({ label, outcome }) => (outcome.ending === "overheats" ? [label] : []));
  const heat = `${hot.length === 0 ? "" : ` At ${listed(hot)} the SCR gets hotter than it is rated.`}${below}`;
  if (trips.length === known.length)
    return `It trips again and again at each of these values, from ${at(first)} to ${at(last)}.${heat}`;
  const range = first === last ? `at ${at(first)} only` : `from ${at(first)} to ${at(last)}`;
  /** All that follow each other on one side and end alike. */
  const beside = (i: number, step: 1 | -1): string => {
    if (known[i] === undefined) return "";
    const { tag } = known[i].outcome;
    let end = i;
    while (known[end + step]?.outcome.tag === tag) end += step;
    const [from, to] = [at(Math.min(i, end)), at(Math.max(i, end))];
    return from === to ? ` At ${at(i)}: ${small(tag)}.` : ` From ${from} to ${to}: ${small(tag)}.`;
  };
  return `It trips again and again ${range}.${heat}${beside(first - 1, -1)}${beside(last + 1, 1)}`;
}

/** Which of the fuses that were tried would not carry what the loads draw on transmit, in a sentence; empty: all do, or no fuse is tried. */
export function tooSmall(rungs: readonly RungFound[]): string {
  const small = rungs.filter(({ carries }) => carries?.holds === "no");
  const first = small[0]?.carries;
  if (first === undefined) return "";
  const [from, to] = [small[0].rung.label, small[small.length - 1].rung.label];
  const which = from === to ? `The fuse of ${from}` : `The fuses from ${from} to ${to}`;
  return `${which} would not hold in normal service: ${first.draws}, which melts ${from === to ? "it" : "each of them"}.`;
}
