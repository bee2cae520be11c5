import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { compareFile, renderReference } from "../../packages/sim/src/reference/compare.ts";

const text = readFileSync(join(import.meta.dirname, "independent/cases.json"), "utf8");

describe("further lines, computed from the equations alone (Python, SciPy, Radau; test/reference/independent)", () => {
  it.each(["default", "tight"] as const)("agree at %s accuracy, every figure", (accuracy) => {
    const report = compareFile(text, { accuracy });
    expect(renderReference(report)).toMatch(/All \d+ figures of \d+ cases agree\.$/);
    expect(report.exitStatus).toBe(0);
    expect(report.cases.length).toBeGreaterThanOrEqual(14);
    for (const entry of report.cases) expect(entry.figures).toBeGreaterThan(150);
  });

  it("are noticed when an event comes 1 % late", () => {
    const cases = JSON.parse(text) as { case: { name: string }; expected: { events: { t: number }[] } }[];
    const several = cases.filter((entry) => entry.expected.events.length > 1);
    expect(several.length).toBeGreaterThan(20);
    for (const entry of several) {
      const [before, last] = entry.expected.events.slice(-2);
      // More than the 1 µs that the default accuracy leaves even to the shortest interval.
      last.t += 0.01 * (last.t - before.t) + 2e-6;
      expect(compareFile(JSON.stringify([entry]), { accuracy: "default" }).exitStatus, entry.case.name).toBe(1);
    }
  });
});
