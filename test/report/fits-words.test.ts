import { expect, test } from "vitest";
import { renderFits } from "../../packages/sim/src/report/fits.ts";
import { type FittedFuse, parseScenario } from "../../packages/sim/src/scenario/index.ts";
import { station } from "../cli/launch.ts";

const [FITTED] = parseScenario(station(), "station.yaml").fits;

/** The same fuse at a place, with so many points, some of them a time to aim at. */
function fitted(path: string, points: number, targets: number, insideGates: boolean): FittedFuse {
  const made = Array.from({ length: points }, (_, i) => ({
    ...FITTED.fit.points[0],
    deviation: i < targets ? Math.log(1.5) : null,
  }));
  return { ...FITTED, path, fit: { ...FITTED.fit, points: made, worstDeviation: Math.log(1.5), insideGates } };
}

test.each<[FittedFuse, string]>([
  [
    fitted("main fuse", 5, 1, true),
    "Main fuse, blade fuse 20 A: 5 published points, inside all of them; at worst 1.5 times as long or as short as the time aimed at.",
  ],
  [
    fitted("sources[0].lead.fuse", 3, 0, false),
    "In-line fuse of source 1, blade fuse 20 A: 3 published points, OUTSIDE at least one of them; none of them names a time to aim at.",
  ],
  [
    fitted("loads[1].lead.fuse", 1, 0, true),
    "In-line fuse of load 2, blade fuse 20 A: 1 published point, inside it; it names no time to aim at.",
  ],
  [fitted("main fuse", 1, 0, false), "Main fuse, blade fuse 20 A: 1 published point, OUTSIDE it; it names no time"],
])("a fit is told with its place and what it meets (%#)", (fit, words) => {
  expect(renderFits([fit], 400)).toContain(`  - ${words}`);
});

test("no fit is no section", () => {
  expect(renderFits([], 80)).toBe("");
});
