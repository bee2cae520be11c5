import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { compareFile } from "../../packages/sim/src/reference/compare.ts";
import { root } from "../ground/files.ts";
import { readDocument, tableRows } from "./markdown.ts";

const accuracy = readDocument("packages/sim/docs/accuracy.md");
const rows = tableRows(accuracy, "case", "figures", "default, worst", "tight, worst");
const cases = readFileSync(join(root, "test/reference/cases.json"), "utf8");

describe.each([
  ["default", 2],
  ["tight", 3],
] as const)("the measured agreement, %s", (level, column) => {
  const report = compareFile(cases, { accuracy: level });

  test("counts every case and figure", () => {
    expect(rows.map(([name, figures]) => [name, Number(figures)])).toEqual(
      report.cases.map(({ name, figures }) => [name, figures]),
    );
    const total = report.cases.reduce((sum, { figures }) => sum + figures, 0);
    expect(accuracy.prose).toContain(`${total} figures`);
  });

  // A change of the last digits is no lie; twice as bad, or several times better than is claimed, wants a new table.
  test("is as good as it says, and not much better", () => {
    for (const [k, { worst }] of report.cases.entries()) {
      const claimed = Number.parseFloat(rows[k]?.[column] ?? "") / 100;
      expect(worst?.deviation, rows[k]?.[0]).toBeLessThan(2 * claimed);
      expect(worst?.deviation, rows[k]?.[0]).toBeGreaterThan(claimed / 10);
    }
  });
});
