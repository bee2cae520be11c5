import { describe, expect, test } from "vitest";
import { parseScenario } from "../../../packages/sim/src/index.ts";
import { fittedText } from "../../../packages/sim/src/study/fit/write.ts";
import { scenarioWith } from "./bench.ts";
import { foundValue } from "./made.ts";

const base = scenarioWith("02-hiccup-supply", {});

function fitted(text: string, change: Parameters<typeof foundValue>[0] = {}) {
  const written = fittedText(text, parseScenario(text, "hut.yaml"), [foundValue(change)], "bench.csv");
  const { scenario, spreads, issues } = parseScenario(written, "fitted.yaml");
  if (scenario === null) throw new Error(issues.map(({ message }) => message).join("; "));
  return { written, trip: scenario.crowbar?.tripVoltage, spreads };
}

describe("a scenario with a fitted value", () => {
  test("carries it, its spread of three standard errors to both sides, and where it comes from", () => {
    const { written, trip, spreads } = fitted(base);
    expect(trip).toBe(15.02);
    expect(spreads).toMatchObject([{ shape: "normal" }]);
    expect(spreads[0]!.low).toBeCloseTo(15.02 - 0.046, 9);
    expect(spreads[0]!.high).toBeCloseTo(15.02 + 0.046, 9);
    expect(written).toMatch(
      /^# Fitted to the capture bench\.csv:\n# {3}crowbar: trip voltage: 15\.02 V, standard error 0\.015 V\n#\n/,
    );
    expect(fitted(base, { state: "at bound" }).written).toContain("standard error 0.015 V, at a bound\n");
  });

  test("has one spread of it, in place of the one it had by the name of its part; others stay", () => {
    const had = 'tolerances:\n  "main fuse.cold resistance": "±10 %"\n  "relay radio.input capacitance": "±20 %"\n';
    const change = {
      path: ["loads", 0, "input capacitance"],
      label: "relay radio: input capacitance",
      unit: "mF",
      value: 2.3,
      error: 0.05,
    } as const;
    const { spreads, written } = fitted(`${base}${had}`, change);
    expect(spreads.map(({ label }) => label)).toEqual(["main fuse: cold resistance", "relay radio: input capacitance"]);
    expect(spreads[1]).toMatchObject({ low: 2.15, high: 2.45, shape: "normal" });
    expect(written).not.toContain("±20 %");
  });

  test.each(["tolerances:\n", "tolerances: {}\n"])("where its spreads are none: %j", (none) => {
    expect(fitted(`${base}${none}`).spreads).toHaveLength(1);
  });

  test("has no spread where there is none to be written: both its ends are the value", () => {
    const { trip, spreads, written } = fitted(base, { error: 1e-14 });
    expect([trip, spreads]).toEqual([15.02, []]);
    expect(written).toContain("trip voltage: 15.02 V, standard error 1e-14 V\n");
  });
});
