import { describe, expect, test } from "vitest";
import type { LoadFindings, Run } from "../../packages/sim/src/model/result.ts";
import { withstandData } from "../../packages/sim/src/report/figure-data-withstand.ts";
import type { Load, Scenario } from "../../packages/sim/src/scenario/types.ts";
import { judged, loadFound, run, trace } from "../verdict/fixtures.ts";
import { radio } from "../verdict/parts.ts";

const STRICT: Load = { ...radio, limits: { minimum: 11.7, maximum: 15.9, withstand: [], withstandAssumed: false } };
const CURVE: Load = { ...STRICT, limits: { ...STRICT.limits, withstand: [{ voltage: 16.5, time: 0.05 }] } };
const ASSUMED: Load = { ...CURVE, limits: { ...CURVE.limits, withstandAssumed: true } };

const watched = (level: number, longest: number) => ({ level, total: longest, longest, area: 0 });
const found = (peak: number, longest = 0, over: Partial<LoadFindings> = {}): LoadFindings =>
  loadFound({ peak: { value: peak, time: 0.1 }, withstand: [{ ...watched(16.5, longest), allowed: 0.05 }], ...over });

/** A run in which the radio's voltage goes in straight lines over the corners of its trace. */
function withstood(loads: readonly Load[], findings: readonly LoadFindings[], over: Partial<Run> = {}) {
  const recorded = trace([0, 0.1, 0.2, 0.3], { radio_V: [13.5, 17, 17, 13.5], lamp_V: [0, 17, 17, 0] });
  const scenario: Partial<Scenario> = { loads: loads as Scenario["loads"] };
  const made = run({ trace: recorded, loads: findings, ...over }, scenario);
  return withstandData(made, judged(made));
}

test("there is nothing to compare where no load has a curve and none was above its maximum", () => {
  expect(withstood([STRICT], [found(15.1, 0, { withstand: [] })])).toBeNull();
});

describe("what is said of a load", () => {
  test("that stands no time above its maximum is what it saw, and for how long", () => {
    const sentence = withstood([STRICT], [found(17, 0, { withstand: [] })])?.subtitle ?? "";
    const [, time] =
      /^The radio stands no time above 15\.9 V; it saw 17 V and was above for (\d+) ms\.$/.exec(sentence) ?? [];
    // Up and down in straight lines, 3.5 V in 0.1 s.
    const exact = 100 + (2 * 100 * (17 - 15.9)) / 3.5;
    expect(Math.abs(Number(time) - exact)).toBeLessThan(0.01 * exact);
  });

  test.each([
    [CURVE, 0.02, "The radio was above 16.5 V for 20 ms; its curve allows 50 ms: 2.5 times as long."],
    [CURVE, 0.2, "The radio was above 16.5 V for 200 ms; its curve allows 50 ms: it lasted 4 times as long."],
    [
      ASSUMED,
      0.002,
      "The radio was above 16.5 V for 2 ms; its curve, which is assumed, allows 50 ms: 25 times as long.",
    ],
    [CURVE, 0, "The radio never rose above 16.2 V; what it stands begins to count at 16.5 V."],
  ])("with a curve is how near it came (%#)", (load, longest, sentence) => {
    expect(withstood([load], [found(longest > 0 ? 17 : 16.2, longest)])?.subtitle).toBe(sentence);
  });

  test("is said of the one of several that came nearest, or was farthest beyond", () => {
    const lamp: Load = { ...CURVE, name: "lamp" };
    const answer = (ofRadio: number, ofLamp: number) =>
      withstood([CURVE, lamp], [found(17, ofRadio), found(17, ofLamp, { name: "lamp" })])?.subtitle;
    expect(answer(0.02, 0.03)).toMatch(/^The lamp /);
    expect(answer(0.03, 0.02)).toMatch(/^The radio /);
    const strict = withstood(
      [CURVE, { ...STRICT, name: "lamp" }],
      [found(17, 0.06), found(17, 0, { name: "lamp", withstand: [] })],
    );
    expect(strict?.subtitle).toMatch(/^The lamp stands no time above/);
  });
});

describe("the curve of what was found", () => {
  test("begins below what the load has in peace, and of one without voltage at the start below its maximum", () => {
    const lamp: Load = { ...CURVE, name: "lamp" };
    const data = withstood([CURVE, lamp], [found(17, 0.02), found(17, 0.02, { name: "lamp" })]);
    expect(data?.loads.map(({ found: points }) => points[0].voltage)).toEqual([13.5, 13.5]);
  });

  test("holds only what was watched where rows of the trace were left out, the lowest voltage first", () => {
    const above = { aboveMaximum: watched(15.9, 0.163) };
    const [load] =
      withstood([CURVE], [found(17, 0.12, above)], {
        trace: { ...trace([0, 0.3], { radio_V: [13.5, 13.5] }), thinned: { from: 1000, everyEvent: true } },
      })?.loads ?? [];
    expect(load.found).toEqual([
      { voltage: 15.9, time: 0.163 },
      { voltage: 16.5, time: 0.12 },
    ]);
  });

  test("is left out of a load whose voltage was not recorded", () => {
    const data = withstood([CURVE, { ...CURVE, name: "spare" }], [found(17, 0.02), found(17, 0.02, { name: "spare" })]);
    expect(data?.loads.map(({ label }) => label)).toEqual(["radio"]);
  });
});

test("a load that only touched its maximum for no time is not said to have been above for any", () => {
  const thin = { trace: { ...trace([0, 0.3], { radio_V: [13.5, 13.5] }), thinned: { from: 1000, everyEvent: true } } };
  expect(withstood([STRICT], [found(16, 0, { withstand: [], aboveMaximum: watched(15.9, 0) })], thin)?.subtitle).toBe(
    "The radio stands no time above 15.9 V; it saw 16 V.",
  );
});
