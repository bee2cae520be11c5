import type { TextChange } from "../../scenario/index.ts";
import { listed } from "../../units/index.ts";
import { broken } from "./check.ts";
import { brokenOf } from "./combine.ts";
import type { Parts } from "./plan.ts";
import { largerScr } from "./scr-rules.ts";
import type { Check, Combination, Mend, Outcome, Remedy } from "./types.ts";

/** So many lines are tried at the most. */
const MOST_TRIES = 5;
/** How much more I²t the next larger SCR stands. */
const STRONGER = 1.6;

/** A changed line that may be sound, to be confirmed by a full run. */
export interface Try {
  /** Of the combination that is changed; that of a fuse alone where it fell out before any was made of it. */
  readonly id: string;
  readonly parts: readonly string[];
  readonly scr: string | null;
  readonly words: readonly string[];
  readonly changes: readonly TextChange[];
  /** Whether the file can say all of it, so that a full run may confirm it. */
  readonly runs: boolean;
  /** Whether it followed from a try that was not enough. */
  readonly followed?: boolean;
}

/**
 * Changes that would open a line for which no combination is sound, the cheapest first: those that break the fewest rules by the smallest
 * factors, and of which each can be mended.
 */
export function triesFor(parts: Parts, all: readonly Combination[], fell: readonly Combination[]): readonly Try[] {
  const distinct = new Map<string, Try>();
  for (const { combination, fuse, failed } of nearest(parts, all)) {
    if (failed.some(({ mend }) => mend === null)) continue;
    const mends = together(failed);
    const words = [...new Set(mends.map((mend) => mend.words))];
    // What no change of the file can say is told, but cannot be run.
    const runs = combination !== null && mends.every(({ changes }) => changes.length > 0);
    const changes = [...(combination?.changes ?? []), ...mends.flatMap((mend) => mend.changes)];
    if (!distinct.has(words.join()))
      distinct.set(words.join(), { ...namesOf(combination, fuse), words, changes, runs });
  }
  // Those that no run can confirm must not take the places of those that one can.
  const left = { true: MOST_TRIES, false: 1 };
  const fallen = fell.map(
    (each): Try => ({ ...namesOf(each, each.fuse), words: [], changes: each.changes, runs: true }),
  );
  const stronger = fell.flatMap(({ outcome }, index) => strongerScr(parts, fallen[index], outcome) ?? []);
  return [...distinct.values(), ...stronger].filter(({ runs }) => left[`${runs}`]-- > 0);
}

/** The mends of broken rules; of several larger SCRs only the largest, which keeps the rules of the others too. */
function together(failed: readonly Check[]): readonly Mend[] {
  const mends = failed.flatMap(({ mend }) => mend ?? []);
  const stands = ({ changes }: Mend): number =>
    Number.parseFloat(changes.find(([path]) => path.at(-1) === "I2t")?.[1] ?? "0");
  const largest = Math.max(...mends.map(stands));
  return mends.filter((mend) => stands(mend) === 0 || stands(mend) === largest);
}

function namesOf(combination: Combination | null, fuse: string): Pick<Try, "id" | "parts" | "scr"> {
  if (combination === null) return { id: fuse, parts: [fuse], scr: null };
  return { id: combination.id, parts: [fuse, combination.scr, combination.wire], scr: combination.scr };
}

interface Near {
  readonly combination: Combination | null;
  readonly fuse: string;
  readonly failed: readonly Check[];
}

/** What failed of each combination, and of each fuse that fell out before any was made of it; the nearest to sound first. */
function nearest(parts: Parts, all: readonly Combination[]): Near[] {
  const early = parts.fuses.flatMap(({ name, fuse, checks }): Near[] =>
    fuse === null ? [{ combination: null, fuse: name, failed: broken(checks) }] : [],
  );
  const combined = all.map(
    (combination): Near => ({ combination, fuse: combination.fuse, failed: brokenOf(parts, combination) }),
  );
  const carried = combined.some(({ failed }) => failed.every(({ rule }) => rule !== "continuous load"));
  const price = ({ failed, combination }: Near): number => {
    const factors = failed.reduce((product, { shortBy }) => product * shortBy, 1);
    // Where some fuse carries the load, nobody is told to draw less.
    const tooSmall = carried && failed.some(({ rule }) => rule === "continuous load") ? 1000 : 0;
    return tooSmall + 10 * failed.length + factors + (combination?.changed ?? 0) / 100;
  };
  return [...early, ...combined].filter(({ failed }) => failed.length > 0).sort((a, b) => price(a) - price(b));
}

/** A larger SCR for a line on which every rule was kept and yet the SCR gave out in the run; null where that was not it. */
export function strongerScr({ scrs }: Parts, tried: Try, outcome: Outcome | null): Try | null {
  const scr = scrs.find(({ name }) => name === tried.scr);
  const overloaded = outcome?.reasons.some((reason) => /surge rating|junction/.test(reason)) ?? false;
  if (scr === undefined || !overloaded) return null;
  const before = tried.changes.findLast(([path]) => path.at(-1) === "I2t")?.[1] ?? "";
  const stood = Math.max(scr.crowbar.ratings.i2t, Number.parseFloat(before) || 0);
  const { words, changes } = largerScr(scr.name, scr.crowbar, STRONGER * stood);
  const others = tried.words.filter((each) => !each.startsWith("an SCR like"));
  return { ...tried, words: [...others, words], changes: [...tried.changes, ...changes] };
}

/**
 * A change in words.
 *
 * @param shown what its full run showed; null where none was made
 */
export function remedyOf({ id, parts, words, changes }: Try, shown: Outcome | null): Remedy {
  const verified = shown?.sound === true;
  const what = shown === null || verified ? "The cheapest change found" : "What comes nearest";
  const start = `${what}: with ${listed(parts)} it would take ${listed(words)}`;
  const end =
    shown === null
      ? ", by the rules alone: no full run was made of it."
      : verified
        ? "; a full run with it is sound."
        : `, by the rules alone; a full run shows that it is not enough: ${shown.reasons[0]}`;
  return { combination: id, sentence: `${start}${end}`, changes, verified };
}

/** The rule that the combination nearest to sound breaks by most; null where none breaks any. */
export function mainReason(parts: Parts, all: readonly Combination[]): Check | null {
  const [first] = nearest(parts, all);
  return first?.failed.toSorted((a, b) => b.shortBy - a.shortBy)[0] ?? null;
}
