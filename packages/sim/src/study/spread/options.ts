import type { Issue } from "../../issue/issue.ts";
import { LARGEST_SEED } from "../pool/counter.ts";

/** What is asked of a study of tolerances. */
export interface TolerancesOptions {
  /** How many samples are drawn. */
  readonly samples: number;
  /** The same seed gives the same samples for ever. */
  readonly seed: number;
  /** Of so many of the most telling values all corners are run. */
  readonly corners: number;
  /** Which part of how many this is: `{ index: 3, of: 16 }`; index from 1. */
  readonly part: { readonly index: number; readonly of: number };
}

export const MOST_SAMPLES = 1_000_000;
export const MOST_CORNERS = 10;
export const MOST_PARTS = 10_000;

/** What a study of tolerances does unless told otherwise. */
export const USUAL_OPTIONS: TolerancesOptions = { samples: 1000, seed: 1, corners: 4, part: { index: 1, of: 1 } };

/** Everything that is wrong with the options. */
export function optionIssues({ samples, seed, corners, part }: TolerancesOptions): Issue[] {
  const issues: Issue[] = [];
  const whole = (name: string, value: number, least: number, most: number, hint: string | null): void => {
    if (Number.isInteger(value) && value >= least && value <= most) return;
    issues.push({
      severity: "error",
      code: "option-out-of-range",
      path: name,
      message: `The number of \`${name}\` cannot be used.`,
      received: String(value),
      allowed: `a whole number from ${least} to ${most}`,
      hint,
      position: null,
    });
  };
  whole(
    "samples",
    samples,
    1,
    MOST_SAMPLES,
    samples > MOST_SAMPLES
      ? "the interval around a chance narrows only with the root of the number: 10 000 samples tell it to within 1 %"
      : null,
  );
  whole("seed", seed, 0, LARGEST_SEED, null);
  whole("corners", corners, 0, MOST_CORNERS, "each value more doubles the number of runs");
  whole("parts", part.of, 1, MOST_PARTS, null);
  if (issues.every(({ path }) => path !== "parts")) whole("part", part.index, 1, part.of, null);
  return issues;
}

/** Where a part of `total` things begins, and how many it holds. */
export function shareOf(total: number, { index, of }: TolerancesOptions["part"]): { first: number; count: number } {
  const first = Math.floor((total * (index - 1)) / of);
  return { first, count: Math.floor((total * index) / of) - first };
}
