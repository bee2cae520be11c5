import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { COPPER_HEATING } from "../../packages/sim/src/devices/lead.ts";
import { root } from "../ground/files.ts";
import { readDocument, tableRows } from "./markdown.ts";

const physics = readDocument("packages/sim/docs/physics.md");
const bare = (cell: string | undefined) => (cell ?? "").replaceAll("`", "");
const symbols = tableRows(physics, "symbol", "scenario key", "meaning").map(([symbol, key]) => ({
  symbol: bare(symbol),
  key: bare(key),
}));

test("every symbol that a reference file may hold stands in the table, and no other", () => {
  const translation = readFileSync(join(root, "packages/sim/src/reference/translate.ts"), "utf8");
  const read = [...translation.matchAll(/\b(?:number|optional|text|truth|list|fields)\([\w.]+, "(\w+)"/g)];
  const properties = [...translation.matchAll(/\b[cfl]\.([A-Za-z]\w+)\b/g)].filter(([, name]) => name !== "unknown");
  const known = new Set([...read, ...properties].map((match) => match[1] ?? ""));
  // `C1` and `r1` are put together from a letter and a number there; "case" is the file's own frame.
  for (const name of ["case", "map", "nodes"]) known.delete(name);
  for (const name of ["C1", "r1"]) known.add(name);
  expect(symbols.map(({ symbol }) => symbol).sort()).toEqual([...known].sort());
});

test("every scenario key of the table exists", () => {
  const format = readDocument("packages/sim/docs/scenario-format.md");
  const keys = new Set([...format.prose.matchAll(/^\| `([^`]+)` \|/gm)].map((match) => match[1]));
  expect(keys.size).toBeGreaterThan(100);
  expect(symbols.filter(({ key }) => !keys.has(key))).toEqual([]);
});

test("the heating constant of copper is the one that is computed with", () => {
  expect(physics.prose).toContain("κ = 5.0·10⁻¹⁵ K·m⁴/(A²·s)");
  expect(COPPER_HEATING).toBe(5.0e-15);
});
