import fc from "fast-check";
import { Draws } from "../../../packages/sim/bench/draws.ts";
import { InvalidInput } from "../../../packages/sim/src/issue/issue.ts";
import type { Scenario } from "../../../packages/sim/src/scenario/types.ts";
import { drawnLine } from "../random-line.ts";

const MOST = 0xffffffff;
/** More than the longest line takes. */
const CHOICES = 400;

/** Draws that somebody else has chosen: where one is 0 the line is the plainer for it, and so it shrinks. */
class ChosenDraws extends Draws {
  private next = 0;

  constructor(private readonly choices: readonly number[]) {
    super(0);
  }

  override unit(): number {
    return (this.choices[this.next++] ?? 0) / (MOST + 1);
  }

  /** A part is there where its draw is large, so that it goes when the draw goes to 0. */
  override chance = (share: number): boolean => this.unit() >= 1 - share;
}

/** Evenly drawn, and now and then at an end of its range. */
const choice = fc.oneof(
  { weight: 30, arbitrary: fc.noBias(fc.integer({ min: 0, max: MOST })) },
  { weight: 1, arbitrary: fc.constantFrom(0, MOST) },
);

/** A line of any devices, options and topology, for fast-check. */
export const anyLine: fc.Arbitrary<Scenario> = fc
  .array(choice, { minLength: CHOICES, maxLength: CHOICES, size: "max" })
  .map((choices) => drawnLine(new ChosenDraws(choices), "any line"));

/** Skips lines that have no healthy operating point: they are refused, not run. */
export function unlessRefused<T>(run: () => T): T {
  try {
    return run();
  } catch (error) {
    if (error instanceof InvalidInput) fc.pre(false);
    throw error;
  }
}

/** Simpler lines that are tried once one has been found for which a property does not hold. */
const MOST_SHRINKING = 2000;

export interface Trials {
  /** Faults that are run; what is refused does not count. */
  readonly faults: number;
  readonly seed: number;
}

/** What the property says of the simplest counter-example that was found, with that; null where it holds for all. */
export function counterExample<T>(
  of: fc.Arbitrary<T>,
  { faults, seed }: Trials,
  complaints: (value: T) => readonly string[],
): string | null {
  let shrinking = 0;
  let failed = false;
  const property = fc.property(of, (value) => {
    if (failed && ++shrinking > MOST_SHRINKING) return;
    const found = complaints(value);
    if (found.length === 0) return;
    failed = true;
    throw new Error(found.join("\n"));
  });
  const details = fc.check(property, { numRuns: faults, seed, maxSkipsPerRun: 20 });
  if (!details.failed) return null;
  const said = details.errorInstance instanceof Error ? details.errorInstance.message : "";
  return `${said}\n${(fc.defaultReportMessage(details) ?? "").replace(/, path: "[^"]*"/, "")}`;
}
