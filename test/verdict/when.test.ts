import { describe, expect, test } from "vitest";
import { hasFault, when, zeroOf } from "../../packages/sim/src/verdict/when.ts";
import { fuseFound, judged, run, switchFound } from "./fixtures.ts";
import { battery, seriesSwitch, supply } from "./parts.ts";

const calm = { ...supply, fault: { kind: "none" } } as const;

describe("times count from the fault, and in a run without one from its start", () => {
  test("with a fault", () => {
    const { scenario } = run({}, { faultTime: 0.02 });
    expect([hasFault(scenario), zeroOf(scenario)]).toEqual([true, 0.02]);
    expect(when(scenario, 0.0205)).toBe("500 µs after the fault");
    expect(when(scenario, 0.005)).toBe("at 5 ms, before the fault");
  });

  test("without one, whatever the scenario says of its instant", () => {
    const { scenario } = run({}, { faultTime: 0.02, sources: [calm, battery] });
    expect([hasFault(scenario), zeroOf(scenario)]).toEqual([false, 0]);
    expect(when(scenario, 0.0205)).toBe("20.5 ms after the start");
    expect(when(scenario, 0.005)).toBe("5 ms after the start");
  });

  test("no sentence of such a verdict speaks of the time after a fault", () => {
    const melted = fuseFound({ state: "open", meltTime: 0.065, openTime: 0.0650055, peakTheta: 1 });
    const verdict = judged(
      run({ events: [], fuses: [melted], seriesSwitch: switchFound() }, { sources: [calm], seriesSwitch }),
    );
    expect(verdict.done.filter((sentence) => sentence.includes("after the start"))).toHaveLength(3);
    expect(JSON.stringify([verdict.done, verdict.notes, verdict.reasons, verdict.tripping])).not.toMatch(
      /(after|before) the fault/,
    );
  });
});
