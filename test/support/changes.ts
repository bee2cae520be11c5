import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { changeText } from "../../packages/sim/src/scenario/index.ts";
import { nodeAt, plainOf, type TextNode } from "../../packages/sim/src/scenario/text/read.ts";
import { root } from "../ground/files.ts";
import { draws } from "../scenario/draws.ts";
import { treeOf } from "../scenario/tree.ts";

export type Path = (string | number)[];

const folder = join(root, "packages/sim/scenarios");
export const shipped = readdirSync(folder)
  .filter((name) => name.endsWith(".yaml"))
  .map((name) => ({ name, text: readFileSync(join(folder, name), "utf8") }));
const everything = {
  name: "everything.yaml",
  text: readFileSync(join(root, "test/scenario/valid/everything.yaml"), "utf8"),
};
const all = [...shipped, everything];

const dataOf = (text: string): unknown => JSON.parse(JSON.stringify(plainOf(treeOf(text))));

/** Every place of a file: leaves, maps and lists. */
function places(node: TextNode, path: Path = []): { path: Path; node: TextNode }[] {
  const inner =
    node.kind === "list"
      ? node.items.flatMap((item, index) => places(item, [...path, index]))
      : node.kind === "map"
        ? node.entries.flatMap(({ key, value }) => places(value, [...path, key]))
        : [];
  return path.length === 0 ? inner : [{ path, node }, ...inner];
}

/** The data with a change made by plain code. */
function withChange(data: unknown, path: Path, value: unknown): unknown {
  const copy: unknown = structuredClone(data);
  let holder = copy as Record<string | number, unknown>;
  for (const step of path.slice(0, -1)) holder = holder[step] as Record<string | number, unknown>;
  const last = path[path.length - 1];
  if (value !== undefined) holder[last] = value;
  else if (Array.isArray(holder)) holder.splice(Number(last), 1);
  else delete holder[last];
  return copy;
}

const remarks = (text: string): string[] => text.split(/\r?\n/).filter((line) => /^\s*#/.test(line));

/** How much is tried: one place of `every` of a shipped file, one of `everyOfLong` of the file of everything, so many rounds of random changes. */
export interface ChangeShare {
  readonly every: number;
  readonly everyOfLong: number;
  readonly rounds: number;
}

/** One of `every`, beginning with the one at `offset`; never none. */
function someOf<T>(list: readonly T[], every: number, offset: number): readonly T[] {
  const first = offset % Math.min(every, Math.max(1, list.length));
  return list.filter((_, index) => index % every === first);
}

/** Changes at the places of every file: always what was asked for, and nothing else. Called within a test file. */
export function describeChanges({ every, everyOfLong, rounds }: ChangeShare): void {
  describe.each(all.map((file, fileIndex) => ({ ...file, fileIndex })))("$name", ({ text, fileIndex }) => {
    const share = text === everything.text ? everyOfLong : every;
    // Another beginning in each file and test, so that places of every kind have their turn.
    const shareOf = <T>(list: readonly T[], offset: number) => someOf(list, share, offset + fileIndex);
    const data = dataOf(text);
    const found = places(treeOf(text));
    const some = (offset: number) => shareOf(found, offset);

    test("places can be taken out, and nothing else changes", () => {
      for (const { path } of some(0)) {
        const changed = changeText(text, path, null);
        expect(dataOf(changed), path.join(".")).toEqual(withChange(data, path, undefined));
        const kept = new Set(text.split("\n"));
        // What is left of a line that held more than what was taken out is one line, at most.
        expect(changed.split("\n").filter((line) => !kept.has(line)).length, path.join(".")).toBeLessThanOrEqual(1);
      }
    });

    test("places can become something else: a single value, a map, a list, a block", () => {
      const values = [
        "15.25 V",
        "{part: SCR 55 A, trip voltage: 15 V}",
        "[{a: 1}, {b: 2}]",
        "a: 1 # one\nb:\n  c: 2\n",
      ];
      some(1).forEach(({ path, node }, index) => {
        const value = values[index % values.length];
        const changed = changeText(text, path, value);
        expect(dataOf(changed), path.join(".")).toEqual(withChange(data, path, dataOf(value)));
        if (node.kind !== "text") return;
        expect(remarks(changed)).toEqual(remarks(text));
        if (value.includes("\n")) return;
        const before = text.split("\n");
        expect(changed.split("\n").filter((line, row) => line !== before[row])).toHaveLength(1);
      });
    });

    test("a new key in maps, and back: byte for byte", () => {
      const maps = [{ path: [] as Path, node: treeOf(text) }, ...found].filter(({ node }) => node.kind === "map");
      const values = ["5 A", "{a: 1, b: [2, 3]}", "a: 1\nb: {c: 2}"];
      shareOf(maps, 2).forEach((holder, index) => {
        const value = values[index % values.length];
        const path = [...holder.path, "new key"];
        const changed = changeText(text, path, value);
        expect(dataOf(changed), path.join(".")).toEqual(withChange(data, path, dataOf(value)));
        expect(remarks(changed)).toEqual(remarks(text));
        expect(changeText(changed, path, null), path.join(".")).toBe(text);
      });
    });

    test("a new entry at the end of each list, and back: byte for byte", () => {
      for (const { path, node } of found) {
        if (node.kind !== "list") continue;
        const there = [...path, node.items.length];
        const changed = changeText(text, there, "name: one\nkind: battery");
        expect(dataOf(changed)).toEqual(withChange(data, there, { name: "one", kind: "battery" }));
        expect(changeText(changed, there, null)).toBe(text);
      }
    });

    test("with the line breaks of another system", () => {
      const other = text.replace(/\n/g, "\r\n");
      for (const { path } of someOf(found, 15 * share, 0)) {
        for (const value of [null, "1 V", "a: 1\nb: 2"]) {
          const changed = changeText(other, path, value);
          expect(changed.replace(/\r\n/g, ""), path.join(".")).not.toContain("\n");
          expect(changed.replace(/\r\n/g, "\n"), path.join(".")).toBe(changeText(text, path, value));
        }
      }
    });
  });

  test(`${rounds * 20} changes one after the other, at random places: always what was asked for`, () => {
    const draw = draws(20_240);
    const values = [
      "7 V",
      "none",
      "{kind: none}",
      "[1, 2]",
      "x: 1\ny: 2",
      "- 1\n- b: 2",
      "'quoted: text'",
      "{}",
      "[]",
      null,
    ];
    const keys = ["alpha", "run for", "a key: with colon", "constructor", "ä b"];
    for (let round = 0; round < rounds; round += 1) {
      let { text } = draw.from(all);
      for (let step = 0; step < 20; step += 1) {
        const tree = treeOf(text);
        const found = places(tree);
        const { path, node } = found.length === 0 ? { path: [] as Path, node: tree } : draw.from(found);
        const inside = node.kind === "map" && draw.from([true, false]);
        const there = inside || path.length === 0 ? [...path, draw.from(keys)] : path;
        const value = draw.from(values);
        const before = dataOf(text);
        const changed = changeText(text, there, value);
        const isThere = nodeAt(tree, there) !== null;
        const wanted =
          value === null && !isThere
            ? before
            : withChange(before ?? {}, there, value === null ? undefined : dataOf(value));
        expect(dataOf(changed) ?? {}, `${there.join(".")} = ${value}\n${text}\n---\n${changed}`).toEqual(wanted);
        text = changed;
      }
    }
  });
}
