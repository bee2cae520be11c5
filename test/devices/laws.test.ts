import { describe, expect, it } from "vitest";
import { Simulation } from "../../packages/sim/src/model/run.ts";
import type { Scenario } from "../../packages/sim/src/scenario/types.ts";
import { lawfulRates } from "../support/laws.ts";
import { modeScenarios } from "../support/mode-scenarios.ts";
import { inside } from "../support/modes.ts";

/** Looks at a line as it runs, after every step. */
function misses(scenario: Scenario): { looks: number; wrong: string[] } {
  const simulation = new Simulation(scenario, { record: false });
  const wrong = new Set<string>();
  let looks = 0;
  do {
    const { line, y, local } = inside(simulation);
    const found = new Float64Array(line.size);
    line.rates(local, y, found);
    const lawful = lawfulRates(simulation, scenario);
    line.names.forEach((name, k) => {
      const rate = lawful.get(name);
      if (rate === undefined) wrong.add(`${name} has no law`);
      // What is left of a difference of large terms: a state's own size over its fastest time.
      else if (
        !(Math.abs(found[k] - rate.value) <= rate.band + 1e-9 * Math.abs(rate.value) + ROUNDING * line.scales[k])
      )
        wrong.add(`${name}: ${found[k]} instead of ${rate.value} at ${simulation.time} s`);
    });
    looks++;
  } while (simulation.advance(1) === "running");
  return { looks, wrong: [...wrong] };
}

/** 1/s, of a state's scale. */
const ROUNDING = 1e-5;

describe("every state's rate is what the equations say, in every mode that a run comes to", () => {
  it.each(Object.entries(modeScenarios))("%s", (_name, scenario) => {
    const { looks, wrong } = misses(scenario);
    expect(wrong.slice(0, 5)).toEqual([]);
    expect(looks).toBeGreaterThan(20);
  });
});
