import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { compareFile, renderReference } from "../../packages/sim/src/reference/compare.ts";
import { repeatsTheNext } from "../../packages/sim/src/reference/events.ts";
import { BadCase } from "../../packages/sim/src/reference/fields.ts";

const text = readFileSync(join(import.meta.dirname, "cases.json"), "utf8");
const cases = JSON.parse(text) as { case: Record<string, unknown>; expected: Record<string, unknown> }[];

describe("reference cases, independent implementation (SciPy, Radau, rtol 1e-10)", () => {
  it.each(["default", "tight"] as const)("agree at %s accuracy, every figure", (accuracy) => {
    const report = compareFile(text, { accuracy });
    expect(renderReference(report)).not.toContain("falls short");
    expect(report.exitStatus).toBe(0);
    expect(report.cases.map((entry) => entry.name)).toEqual(cases.map((entry) => entry.case.name));
    for (const entry of report.cases) expect(entry.figures).toBeGreaterThan(200);
  });

  it("agree through the older tableau as well", () => {
    expect(compareFile(text, { accuracy: "default", method: "rodas4" }).exitStatus).toBe(0);
  });
});

/** Every number, truth value and word under the compared keys, as paths. */
function leaves(value: unknown, path: readonly (string | number)[] = []): (readonly (string | number)[])[] {
  if (typeof value !== "object" || value === null) return [path];
  const entries = Array.isArray(value) ? value.map((entry, i) => [i, entry] as const) : Object.entries(value);
  return entries.flatMap(([key, entry]) => leaves(entry, [...path, key]));
}

// What informs only or sets what is allowed: it is not an expectation of its own.
const NOT_COMPARED =
  /^(solver|v_line_peak|v_guarded_peak|convergence|t_end)$|^t_(peak|I_peak|didt_peak|Tj_peak|dT_peak)$|^(slope|residual|relative|name)$/;

/** The figures of a case whose perturbation, each alone, goes unnoticed. */
function unnoticed(name: string, among: (path: readonly (string | number)[]) => boolean) {
  const original = cases.find((entry) => entry.case.name === name);
  if (!original) throw new Error(`no case is called ${name}`);
  const paths = leaves(original.expected).filter((path) => {
    if (path.some((key) => typeof key === "string" && NOT_COMPARED.test(key))) return false;
    // Where and when a sample was taken is no expectation.
    return among(path) && !(path[0] === "samples" && ["event", "dt", "t"].includes(String(path[2])));
  });
  const missed = paths.filter((path) => {
    const copy = structuredClone(original);
    perturb(copy.expected, path);
    try {
      return compareFile(JSON.stringify([copy]), { accuracy: "default" }).exitStatus === 0;
    } catch (error) {
      if (error instanceof BadCase) return false;
      throw error;
    }
  });
  return { tried: paths.length, missed };
}

describe("a perturbed expectation", () => {
  it("is caught, each figure alone", () => {
    const { tried, missed } = unnoticed("middle-of-leads-foldback", () => true);
    expect(missed).toEqual([]);
    expect(tried).toBeGreaterThan(250);
  });

  it("is caught in the figures of repeated tripping", () => {
    const { tried, missed } = unnoticed("hiccup-cycling", (path) => path[0] === "scr");
    expect(missed).toEqual([]);
    expect(tried).toBeGreaterThan(30);
  });

  it("is caught where a figure is expected that the run does not have", () => {
    const copy = structuredClone(cases[6]);
    copy.expected.clamp = { I_peak: 1, energy: 1, dT_peak: 1, dT_end: 1, failed_short: false, t_fail: null };
    expect(compareFile(JSON.stringify([copy]), { accuracy: "default" }).exitStatus).toBe(1);
  });
});

function perturb(target: unknown, path: readonly (string | number)[]): void {
  const parent = path
    .slice(0, -1)
    .reduce<Record<string | number, unknown>>((at, key) => at[key] as never, target as never);
  const key = path[path.length - 1];
  const value = parent[key];
  if (typeof value === "number") parent[key] = value * 1.01 + (Math.abs(value) < 1 ? 0.02 : 0.2);
  else if (typeof value === "boolean") parent[key] = !value;
  else if (value === null) parent[key] = 1;
  else parent[key] = `${String(value)} not`;
}

describe("a sample at the start that repeats the next one", () => {
  const moving = { event: -1, dt: 0, v_line: 1, slope: { v_line: 0.5 } };
  it("is set aside only where the values move and are the same to the last digit", () => {
    expect(repeatsTheNext([moving, { ...moving, dt: 2 }], 0)).toBe(true);
    expect(repeatsTheNext([moving, { ...moving, dt: 2, v_line: 1.001 }], 0)).toBe(false);
    expect(
      repeatsTheNext(
        [
          { ...moving, slope: { v_line: 0 } },
          { ...moving, dt: 2 },
        ],
        0,
      ),
    ).toBe(false);
  });
});

describe("a file that is no reference file", () => {
  it.each([["{"], ["{}"], ["[]"], ['[{"case": 1, "expected": {}}]'], ['[{"case": {"name": "x"}, "expected": {}}]']])(
    "is refused: %s",
    (content) => {
      expect(() => compareFile(content, { accuracy: "default" })).toThrow(BadCase);
    },
  );
});
