import { describe, expect, test } from "vitest";
import {
  changeText,
  describedPaths,
  describeValue,
  FitMemory,
  parseScenario,
} from "../../packages/sim/src/scenario/index.ts";
import { parseQuantity } from "../../packages/sim/src/units/index.ts";
import { shipped } from "./changes.ts";

/** Numbers of two scenarios within the digits that a described value shows; everything else the same. */
function differences(a: unknown, b: unknown, path = ""): string[] {
  if (typeof a === "number" && typeof b === "number")
    return Math.abs(a - b) <= 2e-4 * Math.max(Math.abs(a), Math.abs(b)) || Object.is(a, b)
      ? []
      : [`${path}: ${a} and ${b}`];
  if (typeof a !== "object" || typeof b !== "object" || a === null || b === null) return a === b ? [] : [path];
  const keys = new Set([...Object.keys(a), ...Object.keys(b)]);
  return [...keys].flatMap((key) =>
    differences((a as Record<string, unknown>)[key], (b as Record<string, unknown>)[key], `${path}.${key}`),
  );
}

/** One of `every` values of each shipped file, another beginning in each. Called within a test file. */
export function describeDescriptions(every: number): void {
  describe.each(shipped.map((file, fileIndex) => ({ ...file, fileIndex })))("$name", ({ name, text, fileIndex }) => {
    const memory = new FitMemory();
    const parsed = parseScenario(text, name, memory);

    test("whatever is described can be written into the file as it is described, and nothing changes", () => {
      const paths = describedPaths(parsed);
      expect(paths.length).toBeGreaterThan(40);
      const tried = paths.filter((_, index) => index % every === fileIndex % every);
      for (const path of tried) {
        const told = describeValue(parsed, path);
        if (told === null) throw new Error(`nothing is told of ${path.join(".")}`);
        expect(told.value, path.join(".")).not.toBeNull();
        if (told.dimension !== null && typeof told.value === "number")
          expect(parseQuantity(told.text, told.dimension)).toMatchObject({ ok: true, value: told.value });
        // The two limits of an insulation class can only be written together; a floating battery may be fuller than a file may say.
        const overfull = path.includes("initial charge") && Number(told.value) > 1;
        if (told.origin === "file" || path.includes("insulation") || overfull) continue;
        const changed = parseScenario(changeText(text, path, told.text), name, memory);
        expect(
          changed.issues.filter(({ severity }) => severity === "error"),
          path.join("."),
        ).toEqual([]);
        const { inductanceAssumed: _, ...bar } = changed.scenario?.crowbar ?? {};
        const { inductanceAssumed: __, ...old } = parsed.scenario?.crowbar ?? {};
        expect(
          differences({ ...changed.scenario, crowbar: bar }, { ...parsed.scenario, crowbar: old }),
          path.join("."),
        ).toEqual([]);
        const again = describeValue(changed, path);
        expect(again).toMatchObject({ origin: "file", mark: "given", text: told.text, value: told.value });
      }
    });
  });
}
