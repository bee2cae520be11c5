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
});
