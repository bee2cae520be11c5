import type { Answered } from "../../report/run-scenario.ts";
import { isEndless } from "../../verdict/pending.ts";
import type { Finding } from "../../verdict/types.ts";

/** Passed in a way that hurts, the worst first. */
const HURT: readonly Finding["severity"][] = ["beyond", "unknown"];

/**
 * How a fault came out, in a few sentences: what the radio saw, the worst that befell anything else, and what nothing in the line ends. A radio
 * that stays inside its window is no good end beside a wire that burns.
 *
 * @param answered of `runScenario`
 * @example outcomeOf(answered) // "The relay radio never saw more than 15 V: within its limit of 15.9 V. The crowbar still trips …"
 */
export function outcomeOf({ verdict }: Answered): string {
  if (verdict.kind !== "verdict") return verdict.headline;
  const [worst, ...others] = hurt(verdict.findings);
  const goesOn = verdict.pending.find(isEndless);
  const but = verdict.safe ? "But" : "And";
  return [
    verdict.headline,
    ...(worst === undefined ? [] : [`${but} ${worst.sentence.replace(/^The /, "the ")}`]),
    ...(others.length === 0
      ? []
      : [`${others.length === 1 ? "One more limit was" : `${others.length} more limits were`} passed.`]),
    ...(goesOn === undefined ? [] : [goesOn.sentence.split(/(?<=\.)\s/)[0]]),
  ].join(" ");
}

/** Fire before all else, then what is farthest past its limit. */
function hurt(findings: readonly Finding[]): readonly Finding[] {
  const rank = ({ hazard, severity }: Finding): number => (hazard === null ? 1 + HURT.indexOf(severity) : 0);
  return findings
    .filter(({ severity }) => HURT.includes(severity))
    .toSorted((a, b) => rank(a) - rank(b) || (a.headroom ?? 0) - (b.headroom ?? 0));
}
