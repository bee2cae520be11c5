import { describe, expect, it } from "vitest";
import { simulate } from "../../packages/sim/src/model/run.ts";
import { firstDifference, soundAndAlike, tryLines, violations } from "../support/invariants.ts";
import { randomLine } from "../support/random-line.ts";

describe("random lines of every device, option and topology", () => {
  /** Two thousand stand in test/deep. */
  it("are sound, and alike at both tolerances", () => {
    const { found, refused } = tryLines(10_000, 10_004, soundAndAlike);
    expect(found).toEqual([]);
    expect(refused).toBeLessThan(2);
  });

  it("a violation would be seen", () => {
    const run = simulate(randomLine(10_001));
    expect(violations(run)).toEqual([]);
    expect(violations({ ...run, energy: { ...run.energy, relative: 2e-6 } })).toHaveLength(1);
    expect(violations({ ...run, energy: { ...run.energy, byDevice: { lead: -1 } } })).toHaveLength(1);
    const [first, ...rest] = run.events;
    expect(firstDifference(run, { ...run, events: rest })).not.toBeNull();
    expect(
      firstDifference(run, { ...run, events: [{ ...first, sincePrevious: first.sincePrevious + 1 }, ...rest] }),
    ).not.toBeNull();
  });
});
