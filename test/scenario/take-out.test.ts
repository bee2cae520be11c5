import { changeText, parseScenario, setValue } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { InvalidInput } from "../../packages/sim/src/issue/issue.ts";

type Path = Parameters<typeof changeText>[1];

describe("what is taken out leaves everything else as it stood", () => {
  test.each<[what: string, before: string, path: Path, after: string]>([
    ["a key without a value", "a: 1\nb:\nc: 3\n", ["b"], "a: 1\nc: 3\n"],
    ["one whose colon stands apart", "a: 1\nb :\nc: 3\n", ["b"], "a: 1\nc: 3\n"],
    ["the last one, of a text that does not end its lines", "a: 1\nb:", ["b"], "a: 1\n"],
    ["a key in braces without a colon", "x: {a, b: 1}\n", ["x", "a"], "x: {b: 1}\n"],
    ["the last of them", "x: {a: 1, b}\n", ["x", "b"], "x: {a: 1}\n"],
    ["the key behind a dash", "x:\n  - a: 1\n    b: 2\n", ["x", 0, "a"], "x:\n  - b: 2\n"],
    [
      "the key behind a dash, the remark of the next one staying above it",
      "x:\n  - a:\n    # why\n    b: 2\n",
      ["x", 0, "a"],
      "x:\n  -\n    # why\n    b: 2\n",
    ],
    [
      "an entry whose dash stands alone",
      "x:\n  -\n    a: 1\n  -\n    # why\n    b: 2\n",
      ["x", 1],
      "x:\n  -\n    a: 1\n",
    ],
    ["an entry behind a remark and an empty line", "x:\n- # first\n\n  a: 1\n- b: 2\n", ["x", 0], "x:\n- b: 2\n"],
    ["an entry of a list of lists", "x:\n  - - 1\n    - 2\n  - - 3\n", ["x", 0, 0], "x:\n  - - 2\n  - - 3\n"],
    ["an entry of a list in brackets, a line each", "x: [\n  1,\n  2,\n  3]\n", ["x", 1], "x: [\n  1,\n  3]\n"],
    ["one between remarks, which stay", "x: [1, # one\n 2, # two\n 3]\n", ["x", 1], "x: [1, # one\n  # two\n 3]\n"],
  ])("%s", (_, before, path, after) => {
    expect(changeText(before, path, null)).toBe(after);
  });
});

describe("what loses its last entry is written as empty", () => {
  test.each<[string, Path, string]>([
    ["a:\n  b: 1 # x\n# y\nc: 2\n", ["a", "b"], "a: {}\n# y\nc: 2\n"],
    ["a: # why\n  - 1\nc: 2\n", ["a", 0], "a: [] # why\nc: 2\n"],
    ["x:\n  - a: 1 # why\n  - b: 2\n", ["x", 0, "a"], "x:\n  - {} # why\n  - b: 2\n"],
    ["x: [[1], 2]\n", ["x", 0, 0], "x: [[], 2]\n"],
  ])("%j", (before, path, after) => {
    expect(changeText(before, path, null)).toBe(after);
  });
});

test("a remark between a value in braces and its comma would have to be touched: it is refused", () => {
  expect(() => changeText("a: {b: 1 # why\n  , c: 2}\n", ["a", "b"], null)).toThrow(InvalidInput);
});

describe("a key in braces that has no value yet gets one", () => {
  test.each([
    ["x: {a, b: 1}\n", "x: {a: 3, b: 1}\n"],
    ["x: {a:, b: 1}\n", "x: {a: 3, b: 1}\n"],
    ["x: {a}\n", "x: {a: 3}\n"],
  ])("%j", (before, after) => {
    expect(changeText(before, ["x", "a"], "3")).toBe(after);
    expect(setValue(before, ["x", "a"], "3")).toBe(after);
  });

  test("and another key finds its place behind it", () => {
    expect(changeText("x: {a: 1, b}\n", ["x", "c"], "3")).toBe("x: {a: 1, b, c: 3}\n");
    expect(changeText("x: {a: 1, b:}\n", ["x", "c"], "3")).toBe("x: {a: 1, b:, c: 3}\n");
  });
});

test("a whole file is not one value", () => {
  expect(() => setValue("", [], "5")).toThrow(InvalidInput);
  expect(parseScenario("", "hut.yaml").issues).toMatchObject([{ code: "not-a-map", message: "The file is empty." }]);
});
