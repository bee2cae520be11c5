import { describe, expect, test } from "vitest";
import { InvalidInput } from "../../packages/sim/src/issue/issue.ts";
import { changeText, changeTexts, parseScenario } from "../../packages/sim/src/scenario/index.ts";
import { describeChanges, type Path, shipped } from "../support/changes.ts";

// A share of all places; test/deep/changes.test.ts tries every one.
describeChanges({ every: 5, everyOfLong: 20, rounds: 5 });

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
