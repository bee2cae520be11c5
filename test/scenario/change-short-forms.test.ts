import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { InvalidInput } from "../../packages/sim/src/issue/issue.ts";
import { asValue, changeText, parseScenario } from "../../packages/sim/src/scenario/index.ts";
import { nodeAt } from "../../packages/sim/src/scenario/text/read.ts";
import { treeOf } from "./tree.ts";

type Path = (string | number)[];

const folder = join(import.meta.dirname, "../../packages/sim/scenarios");
const shipped = readdirSync(folder)
  .filter((name) => name.endsWith(".yaml"))
  .map((name) => ({ name, text: readFileSync(join(folder, name), "utf8") }));

describe("short forms", () => {
  const line =
    "main fuse: blade fuse 20 A # F1\nsources:\n  - name: s\n    fault: lost feedback\nloads:\n  - limits: strict\n";
  test.each<[Path, string, string]>([
    [["main fuse", "start"], "cold", "main fuse: {part: blade fuse 20 A, start: cold} # F1"],
    [["main fuse", "part"], "blade fuse 15 A", "main fuse: blade fuse 15 A # F1"],
    [["sources", 0, "fault", "slew"], "1 V/s", "    fault: {kind: lost feedback, slew: 1 V/s}"],
    [["sources", 0, "fault", "kind"], "none", "    fault: none"],
    [["loads", 0, "limits", "maximum"], "15 V", "  - limits: {withstand: strict, maximum: 15 V}"],
    [["loads", 0, "limits", "withstand"], "[{voltage: 16 V, time: 1 s}]", "  - limits: {withstand: strict}"],
  ])("%j", (path, value, expected) => {
    const result = (): string => changeText(line, path, value);
    // A list cannot stand where the short form has a name: the key would stand twice.
    if (value.startsWith("[")) expect(result).toThrow(InvalidInput);
    else expect(result().split("\n")).toContain(expected);
  });

  test("one that has no longer form is refused, and told", () => {
    for (const [text, path] of [
      ["crowbar: none\n", ["crowbar", "trip voltage"]],
      ["title: old\n", ["title", "x"]],
      ["sources: [{lead: {insulation: PVC}}]\n", ["sources", 0, "lead", "insulation", "continuous"]],
      ["loads: [{drop out: none}]\n", ["loads", 0, "drop out", "voltage"]],
    ] as const) {
      expect(() => changeText(text, path, "15 V")).toThrow(/no longer form/);
    }
    expect(() => changeText(line, ["main fuse", "part"], null)).toThrow(/as a whole/);
  });

  test("in every shipped file that has one, the longer form is the same scenario", () => {
    let seen = 0;
    for (const { name, text } of shipped) {
      const fuse = nodeAt(treeOf(text), ["main fuse"]);
      if (fuse?.kind !== "text") continue;
      seen += 1;
      const changed = changeText(text, ["main fuse", "start"], "warm");
      expect(parseScenario(changed, name).scenario).toEqual(parseScenario(text, name).scenario);
    }
    expect(seen).toBeGreaterThan(10);
  });
});

test("words of a person become a value that reads as them, wherever it stands", () => {
  for (const words of [
    "radio",
    "hut: upper",
    "a, b",
    "[x]",
    "x # y",
    "'",
    '"',
    "*x",
    "- x",
    "&a",
    "!t",
    "\\",
    "a\nb",
    "5 V",
    "",
    " x ",
    "@",
    "%",
  ]) {
    for (const [text, path] of [
      ["title: x\n", ["title"]],
      ["loads: [{name: x, k: v}]\n", ["loads", 0, "name"]],
      ["a: 1\n", ["title"]],
    ] as const) {
      expect(nodeAt(treeOf(changeText(text, path, asValue(words))), path)).toMatchObject({
        kind: "text",
        value: words,
      });
    }
  }
  expect(asValue("relay radio")).toBe("relay radio");
});
