import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { InvalidInput } from "../../packages/sim/src/issue/issue.ts";
import { parseScenario, setValue } from "../../packages/sim/src/scenario/index.ts";
import { linesOf } from "../../packages/sim/src/scenario/text/lines.ts";
import { nodeAt, readText } from "../../packages/sim/src/scenario/text/read.ts";
import type { Path } from "../support/changes.ts";
import { testSplices } from "../support/splices.ts";

const text = readFileSync(join(import.meta.dirname, "valid/everything.yaml"), "utf8");

// A share of all values; test/deep/splices.test.ts tries every one.
testSplices(10);

test("comments, blanks and odd spacing stay", () => {
  const odd =
    "ambient:    20 °C    # in the hut\n\n\n# the end\nsources:\n -   {name:  'x' ,  set voltage:13.8 V, k: }\n";
  expect(setValue(odd, ["ambient"], "35 °C")).toBe(odd.replace("20 °C", "35 °C"));
  expect(setValue(odd, ["sources", 0, "name"], "relay")).toBe(odd.replace("'x'", "relay"));
  expect(setValue(odd, ["sources", 0, "k"], "5 A")).toBe(odd.replace("k: }", "k: 5 A}"));
});

test("in braces a comma and a bracket are quoted, outside they are not", () => {
  expect(setValue("{a: 1, b: 2}\n", ["a"], "x, y")).toBe('{a: "x, y", b: 2}\n');
  expect(setValue("{a: 1, b: 2}\n", ["a"], "x]")).toBe('{a: "x]", b: 2}\n');
  expect(setValue("a: 1\nb: 2\n", ["a"], "x, y]")).toBe("a: x, y]\nb: 2\n");
});

test("a changed file is a changed scenario", () => {
  const changed = setValue(text, ["crowbar", "trip voltage"], "15.25 V");
  expect(parseScenario(changed, "x").scenario?.crowbar?.tripVoltage).toBe(15.25);
});

test.each([
  "a: b",
  "x # y",
  "[1, 2]",
  "{a: 1}",
  "*x",
  "&x",
  "!x",
  "- x",
  "'",
  '"quoted"',
  " spaced ",
  "@x",
  "`x`",
  "trailing:",
])("a value with a meaning in the format is quoted: %j", (value) => {
  const changed = setValue("title: old # why\nrun for: 1 s\n", ["title"], value);
  expect(changed).toMatch(/^title: ".*" # why\nrun for: 1 s\n$/);
  expect(nodeAt(readText(linesOf(changed, "x")).tree!, ["title"])).toMatchObject({ value });
});

describe("refusals", () => {
  test.each<[string, string, Path, string]>([
    ["nothing at the path", "a: 1\n", ["b"], "2"],
    ["a path through a value", "a: 1\n", ["a", "b"], "2"],
    ["no such entry", "a: [1]\n", ["a", 1], "2"],
    ["a whole map", "a: {b: 1}\n", ["a"], "2"],
    ["two lines", "a: 1\n", ["a"], "1\n2"],
    ["an empty value", "a: 1\n", ["a"], ""],
    ["a control character", "a: 1\n", ["a"], "\u001b"],
    ["a text that cannot be read", "a: [1\n", ["a"], "2"],
    ["an inherited name", "a: 1\n", ["constructor"], "2"],
  ])("%s", (_, source, path, value) => {
    expect(() => setValue(source, path, value)).toThrow(InvalidInput);
  });
});
