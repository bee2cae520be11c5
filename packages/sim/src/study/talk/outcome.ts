import { withRemedy } from "../../issue/issue.ts";
import type { Answered } from "../../report/run-scenario.ts";
import { isEndless } from "../../verdict/pending.ts";
import type { Finding, Pending } from "../../verdict/types.ts";
import { capital } from "../../verdict/words.ts";

/** Above what a run warns of. */
export const WARNINGS = "Warnings about this line";

/** Passed in a way that hurts, the worst first. */
const HURT: readonly Finding["severity"][] = ["beyond", "unknown"];

/**
 * How a fault came out, in a few sentences: what the radio saw, the worst that befell anything else, and what fails unless somebody acts, or
 * else what nothing in the line ends. A radio that stays inside its window is no good end beside a wire that burns, or is about to.
 *
 * @param answered of `runScenario`
 * @example outcomeOf(answered) // "The relay radio never saw more than 15 V: within its limit of 15.9 V. The crowbar still trips …"
 */
export function outcomeOf({ verdict }: Answered): string {
  if (verdict.kind !== "verdict") return verdict.headline;
  const [worst, ...others] = hurt(verdict.findings);
  const but = verdict.safe ? "But" : "And";
  return [
    verdict.headline,
    ...(worst === undefined ? [] : [`${but} ${worst.sentence.replace(/^The /, "the ")}`]),
    ...(others.length === 0
      ? []
      : [`${others.length === 1 ? "One more limit was" : `${others.length} more limits were`} passed.`]),
    ...stillToFail(verdict.pending),
  ].join(" ");
}

/** Of what fails unless somebody acts the estimate too, for the time left stands in it; where nothing does, what goes on for ever. */
function stillToFail(pending: readonly Pending[]): readonly string[] {
  const failing = pending.filter(({ passesRating }) => passesRating);
  const [told, ...others] = failing.length > 0 ? failing : pending.filter(isEndless).slice(0, 1);
  if (told === undefined) return [];
  const sentences = told.sentence.split(/(?<=\.)\s/).slice(0, told.passesRating ? 2 : 1);
  if (others.length > 0)
    sentences.push(`Fails as well if nobody acts: ${others.map(({ subject }) => subject).join(", ")}.`);
  return sentences;
}

/**
 * What the run warns of, one text each: a sheet or a talk goes to people who never see the verdict.
 *
 * @param most how many there is room for; beyond it the last text says how many more there are
 */
export function warningsOf({ verdict }: Answered, most: number): readonly string[] {
  const all = verdict.warnings.map((warning) => capital(withRemedy(warning)));
  const left = all.length - most + 1;
  return left < 2 ? all : [...all.slice(0, most - 1), `${left} more warnings: see the verdict.`];
}

/** Fire before all else, then what is farthest past its limit. */
function hurt(findings: readonly Finding[]): readonly Finding[] {
  const rank = ({ hazard, severity }: Finding): number => (hazard === null ? 1 + HURT.indexOf(severity) : 0);
  return findings
    .filter(({ severity }) => HURT.includes(severity))
    .toSorted((a, b) => rank(a) - rank(b) || (a.headroom ?? 0) - (b.headroom ?? 0));
}
