import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { setValue } from "../../packages/sim/src/scenario/index.ts";
import { linesOf } from "../../packages/sim/src/scenario/text/lines.ts";
import { nodeAt, readText, type TextNode } from "../../packages/sim/src/scenario/text/read.ts";
import { root } from "../ground/files.ts";
import type { Path } from "./changes.ts";

const text = readFileSync(join(root, "test/scenario/valid/everything.yaml"), "utf8");

function leaves(node: TextNode, path: Path): { path: Path; value: string }[] {
  if (node.kind === "text") return [{ path, value: node.value }];
  if (node.kind === "list") return node.items.flatMap((item, index) => leaves(item, [...path, index]));
  return node.kind === "map" ? node.entries.flatMap(({ key, value }) => leaves(value, [...path, key])) : [];
}

const all = leaves(readText(linesOf(text, "everything.yaml")).tree!, []);

/** One of `every` single values of the file of everything. Called within a test file. */
export function testSplices(every: number): void {
  test(`of ${every} single values of a file one can be changed and changed back, byte for byte`, () => {
    expect(all.length).toBeGreaterThan(200);
    for (const { path, value } of all.filter((_, index) => index % every === 0)) {
      const changed = setValue(text, path, "17.25 kV");
      const before = text.split("\n");
      const after = changed.split("\n");
      expect(after).toHaveLength(before.length);
      expect(
        after.filter((line, index) => line !== before[index]),
        path.join("."),
      ).toHaveLength(1);
      const node = nodeAt(readText(linesOf(changed, "x")).tree!, path);
      expect(node).toMatchObject({ kind: "text", value: "17.25 kV" });
      expect(setValue(changed, path, value)).toBe(text);
    }
  });
}
