import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { simulate } from "../../packages/sim/src/model/run.ts";
import { parseScenario } from "../../packages/sim/src/scenario/index.ts";
import type { Scenario } from "../../packages/sim/src/scenario/types.ts";
import { firstMicrosecondPeak, riseRemedy, surroundingsOf } from "../../packages/sim/src/verdict/current-rise.ts";
import { crowbar } from "./parts.ts";

/** Series RLC from 1 V, textbook closed form: the largest current up to 1 µs, A. */
function rlcPeak(L: number, C: number, R: number): number {
  const alpha = R / (2 * L);
  const square = 1 / (L * C) - alpha * alpha;
  const omega = Math.sqrt(Math.abs(square));
  const peakTime = square > 0 ? Math.atan2(omega, alpha) / omega : Math.atanh(omega / alpha) / omega;
  const time = Math.min(1e-6, peakTime);
  const wave = square > 0 ? Math.sin(omega * time) : Math.sinh(omega * time);
  return (Math.exp(-alpha * time) * wave) / (omega * L);
}

describe("largest current of the first microsecond", () => {
  test.each([
    ["underdamped, peak inside", 5e-8, 1e-7, 0.2],
    ["underdamped, peak later", 1e-6, 1e-5, 0.2],
    ["overdamped, peak inside", 5e-8, 1e-6, 2],
    ["overdamped, peak later", 1e-6, 1e-4, 0.5],
  ])("of a lone capacitor is that of the series RLC: %s", (_, inductance, capacitance, resistance) => {
    const around = { capacitors: [{ capacitance, resistance: resistance / 2 }], leads: [] };
    const peak = firstMicrosecondPeak(inductance, resistance / 2, around);
    // A peak between two steps is missed by less than their spacing squared.
    expect(peak / rlcPeak(inductance, capacitance, resistance)).toBeCloseTo(1, 4);
  });

  test("leads in parallel feed it through what they are together", () => {
    const tiny = [{ capacitance: 1e-9, resistance: 0.5 }];
    const peak = firstMicrosecondPeak(5e-7, 0.001, { capacitors: tiny, leads: [1e-6, 1e-6] });
    // Two leads of 1 µH in parallel in series with 0.5 µH: a ramp of 1 V over 1 µH, and the little charge of 1 nF beside it.
    expect(peak).toBeGreaterThan(1);
    expect(peak).toBeLessThan(1.03);
  });
});

describe("remedies", () => {
  const around = { capacitors: [{ capacitance: 1e-6, resistance: 0.2 }], leads: [] };

  test("no inductance or capacitance helps where the rating is out of reach", () => {
    expect(riseRemedy(crowbar, around, 1e9, 1e5)).toEqual({ inductance: null, capacitance: null });
  });

  test("put into a whole run they meet the rating, and are not far on the safe side", () => {
    const file = join(import.meta.dirname, "../scenario/valid/example.yaml");
    const { scenario } = parseScenario(readFileSync(file, "utf8"), "example.yaml");
    if (scenario === null || scenario.crowbar === null) throw new Error("the example has no crowbar");
    const bar = scenario.crowbar;
    const rise = (made: Scenario) => simulate(made, { until: 0.002 }).crowbar?.firstMicrosecondRise ?? 0;
    const found = rise(scenario);
    const rating = 0.9 * found;
    const { inductance, capacitance } = riseRemedy(bar, surroundingsOf(scenario), found, rating);
    if (inductance === null || capacitance === null) throw new Error("both should help");
    const protectedSide = { ...scenario.nodes.protectedSide, capacitance };
    for (const better of [
      { ...scenario, crowbar: { ...bar, inductance } },
      { ...scenario, nodes: { ...scenario.nodes, protectedSide } },
    ]) {
      expect(rise(better) / rating).toBeLessThan(1.005);
      expect(rise(better) / rating).toBeGreaterThan(0.95);
    }
  });
});
