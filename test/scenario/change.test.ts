import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { InvalidInput } from "../../packages/sim/src/issue/issue.ts";
import { changeText, changeTexts, parseScenario } from "../../packages/sim/src/scenario/index.ts";
import { nodeAt, plainOf, type TextNode } from "../../packages/sim/src/scenario/text/read.ts";
import { draws } from "./draws.ts";
import { treeOf } from "./tree.ts";

type Path = (string | number)[];

const folder = join(import.meta.dirname, "../../packages/sim/scenarios");
const shipped = readdirSync(folder)
  .filter((name) => name.endsWith(".yaml"))
  .map((name) => ({ name, text: readFileSync(join(folder, name), "utf8") }));
const everything = {
  name: "everything.yaml",
  text: readFileSync(join(import.meta.dirname, "valid/everything.yaml"), "utf8"),
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

describe.each(all)("$name", ({ text }) => {
  const data = dataOf(text);
  const found = places(treeOf(text));
  /** All places of a usual file; of a very long one every third. */
  const some = (offset: number) => found.filter((_, index) => found.length < 150 || index % 3 === offset);

  test("every place can be taken out, and nothing else changes", () => {
    for (const { path } of some(0)) {
      const changed = changeText(text, path, null);
      expect(dataOf(changed), path.join(".")).toEqual(withChange(data, path, undefined));
      const kept = new Set(text.split("\n"));
      // What is left of a line that held more than what was taken out is one line, at most.
      expect(changed.split("\n").filter((line) => !kept.has(line)).length, path.join(".")).toBeLessThanOrEqual(1);
    }
  });

  test("every place can become something else: a single value, a map, a list, a block", () => {
    const values = ["15.25 V", "{part: SCR 55 A, trip voltage: 15 V}", "[{a: 1}, {b: 2}]", "a: 1 # one\nb:\n  c: 2\n"];
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

  test("a new key in every map, and back: byte for byte", () => {
    const maps = [{ path: [] as Path, node: treeOf(text) }, ...found].filter(({ node }) => node.kind === "map");
    const values = ["5 A", "{a: 1, b: [2, 3]}", "a: 1\nb: {c: 2}"];
    maps.forEach((holder, index) => {
      const value = values[index % values.length];
      const path = [...holder.path, "new key"];
      const changed = changeText(text, path, value);
      expect(dataOf(changed), path.join(".")).toEqual(withChange(data, path, dataOf(value)));
      expect(remarks(changed)).toEqual(remarks(text));
      expect(changeText(changed, path, null), path.join(".")).toBe(text);
    });
  });

  test("a new entry at the end of every list, and back: byte for byte", () => {
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
    for (const { path } of found.filter((_, index) => index % 15 === 0)) {
      for (const value of [null, "1 V", "a: 1\nb: 2"]) {
        const changed = changeText(other, path, value);
        expect(changed.replace(/\r\n/g, ""), path.join(".")).not.toContain("\n");
        expect(changed.replace(/\r\n/g, "\n"), path.join(".")).toBe(changeText(text, path, value));
      }
    }
  });
});

test("five hundred changes one after the other, at random places: always what was asked for", () => {
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
  for (let round = 0; round < 25; round += 1) {
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

test("keys above that are not there yet come with it", () => {
  expect(changeText("title: x\n", ["crowbar", "ratings", "I2t"], "5 A2s")).toBe(
    "title: x\ncrowbar: {ratings: {I2t: 5 A2s}}\n",
  );
  expect(changeText("crowbar:\n", ["crowbar", "part"], "SCR 55 A")).toBe("crowbar: {part: SCR 55 A}\n");
  expect(changeText("", ["title"], "x")).toBe("title: x\n");
  expect(changeText("# only a remark", ["title"], "x")).toBe("# only a remark\ntitle: x\n");
  expect(changeText("title: x", ["run for"], "1 s")).toBe("title: x\nrun for: 1 s");
  expect(changeText("\ufefftitle: x\n", ["title"], null)).toBe("\ufeff");
});

test("remarks stay where they stand", () => {
  const text = [
    "# head",
    "a: 1 # one",
    "b: # two",
    "  # inside",
    "  c: 3 # three",
    "  d: {e: 4, f: 5} # four",
    "# between",
    "g: [1, 2] # seven",
    "# tail",
    "",
  ].join("\n");
  expect(changeText(text, ["b", "x"], "9")).toBe(text.replace("# four\n", "# four\n  x: 9\n"));
  expect(changeText(text, ["b", "d", "x"], "9")).toBe(text.replace("f: 5}", "f: 5, x: 9}"));
  expect(changeText(text, ["b", "d", "e"], null)).toBe(text.replace("e: 4, ", ""));
  expect(changeText(text, ["b", "d", "f"], null)).toBe(text.replace(", f: 5", ""));
  expect(changeText(text, ["b"], "8")).toBe(text.replace(/b: # two[\s\S]*# four/, "b: 8 # two"));
  expect(changeText(text, ["a"], null)).toBe(text.replace("a: 1 # one\n", ""));
  expect(changeText(text, ["g", 0], null)).toBe(text.replace("1, ", ""));
  expect(changeText(text, ["h"], "1")).toBe(text.replace("# seven\n", "# seven\nh: 1\n"));
  expect(changeText(text, ["nothing", "there"], null)).toBe(text);
});

test("several changes at once are those made one by one; one that fails leaves nothing half done", () => {
  const { text } = shipped[0];
  const changes = [
    [["crowbar", "trip voltage"], "15.5 V"],
    [["main fuse"], null],
    [["sources", 0, "limit"], "{style: foldback, current: 25 A, short circuit current: 8 A}"],
    [["ambient"], "40 °C"],
  ] as const;
  const single = changes.reduce((now, [path, value]) => changeText(now, path, value), text);
  expect(changeTexts(text, changes)).toBe(single);
  expect(parseScenario(single, "x").scenario).toMatchObject({
    ambient: 40,
    mainFuse: null,
    crowbar: { tripVoltage: 15.5 },
  });
  expect(() => changeTexts(text, [...changes, [["ambient", "x"], "1"]])).toThrow(InvalidInput);
  const told: unknown[] = [];
  const bad = [[], "1"] as const;
  const left = changeTexts(text, [bad, ...changes], (change, issues) => told.push([change, issues[0].code]));
  expect([left, told]).toEqual([single, [[bad, "cannot-change"]]]);
});

describe("refusals", () => {
  test.each<[string, string, Path, string | null]>([
    ["the whole file", "a: 1\n", [], "2"],
    ["an empty value", "a: 1\n", ["a"], " \n"],
    ["a value that is only a remark", "a: 1\n", ["a"], "# x"],
    ["a value that cannot be read", "a: 1\n", ["a"], "[1"],
    ["a value with an anchor", "a: 1\n", ["a"], "&x 1"],
    ["a control character", "a: 1\n", ["a"], "\u001b"],
    ["two documents", "a: 1\n", ["a"], "1\n---\n2"],
    ["a text that cannot be read", "a: [1\n", ["a"], "2"],
    ["a key of a list", "a: [1]\n", ["a", "b"], "2"],
    ["a number in a map", "a: {b: 1}\n", ["a", 0], "2"],
    ["an entry beyond the end", "a: [1]\n", ["a", 2], "2"],
    ["an entry of nothing", "b: 1\n", ["a", 0], "2"],
    ["a value of 50 MB", "a: 1\n", ["a"], "x".repeat(5e7)],
    ["a file of 50 MB", "a: 1\n".repeat(1e7), ["a"], "2"],
  ])("%s", (_, source, path, value) => {
    expect(() => changeText(source, path, value)).toThrow(InvalidInput);
  });

  test("nesting beyond what a file may have", () => {
    const deep = Array.from({ length: 40 }, (_, index) => `k${index}`);
    expect(() => changeText("a: 1\n", deep, "1")).toThrow(InvalidInput);
  });
});
