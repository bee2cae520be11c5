import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import type { Issue } from "../../packages/sim/src/issue/issue.ts";
import { formatIssues, parseScenario } from "../../packages/sim/src/scenario/index.ts";
import { expectedProblems } from "./expected-problems.ts";

const folder = join(import.meta.dirname, "broken");
const files = readdirSync(folder).toSorted();

test("there are ten broken files, each with its expectation", () => {
  expect(files).toHaveLength(10);
  expect(Object.keys(expectedProblems).toSorted()).toEqual(files);
});

describe.each(files)("%s", (file) => {
  const text = readFileSync(join(folder, file), "utf8");
  const result = parseScenario(text, file);
  const lines = text.split("\n");

  test("gives all its problems, with places and remedies, and no scenario", () => {
    expect(result.scenario).toBeNull();
    expect(result.issues.map(summary)).toEqual(expectedProblems[file]);
    expect(result.issues.length).toBeGreaterThan(3);
  });

  test("points at what it speaks of", () => {
    for (const { position, received, code } of result.issues) {
      expect(position?.file).toBe(file);
      expect(position?.excerpt).toBe(lines[(position?.line ?? 0) - 1]);
      const pointed = position?.excerpt.slice(position.column - 1, position.column - 1 + position.length) ?? "";
      expect(pointed.length).toBe(position?.length);
      // Whatever was received in one line is what the caret stands under.
      const whole = received !== null && !received.startsWith("a ") && code !== "unknown-unit";
      if (whole) expect(pointed.replaceAll('"', "")).toBe(received);
    }
  });

  test("says what is allowed or what helps, in whole sentences, without a stack trace", () => {
    for (const { message, allowed, hint, severity } of result.issues) {
      expect(message).toMatch(/^[A-Z`0-9].*[.\]]$/s);
      if (severity === "error") expect(allowed ?? hint, message).not.toBeNull();
    }
    const printed = formatIssues(result.issues);
    expect(printed).not.toMatch(/\bat .*\.ts:|Error:|undefined|\[object/);
    expect(printed.replaceAll("NaN V/s", "")).not.toContain("NaN");
    expect(printed.match(/\^/g)?.length).toBeGreaterThanOrEqual(result.issues.length);
  });
});

function summary({ position, severity, code, hint }: Issue): string {
  const help = hint === null ? "" : ` → ${hint.length > 70 ? `${hint.slice(0, 60)}…` : hint}`;
  return `${position?.line}:${position?.column} ${severity === "warning" ? "warning " : ""}${code}${help}`;
}
