import { expect, test } from "vitest";
import { editDistance, namesHolding, nearest } from "../../packages/sim/src/units/index.ts";

test.each([
  ["fuse", "fuze", 1],
  ["fast", "fats", 1],
  ["", "abc", 3],
  ["kitten", "sitting", 3],
  ["same", "same", 0],
])("from %s to %s it takes %d", (a, b, steps) => {
  expect(editDistance(a, b)).toBe(steps);
  expect(editDistance(b, a)).toBe(steps);
});

test.each<[string, string[], string | null]>([
  ["trip votlage", ["off voltage", "trip voltage"], "trip voltage"],
  ["ESR", ["name", "esr"], "esr"],
  ["blade fuse 22 A", ["blade fuse 2 A", "blade fuse 20 A", "blade fuse 25 A"], "blade fuse 20 A"],
  ["SCR 26 A", ["SCR 16 A", "SCR 25 A"], "SCR 25 A"],
  ["quite another thing", ["name", "esr"], null],
  ["", ["name"], null],
  ["x".repeat(5000), ["name"], null],
])("%s means %s", (word, names, meant) => {
  expect(nearest(word, names)).toBe(meant);
});

test.each<[string, string[], string[]]>([
  ["linear 35 A", ["linear supply 20 A", "linear supply 35 A"], ["linear supply 35 A"]],
  // A number is a word of its own: 5 is not in 55.
  ["SCR55", ["SCR 50 A", "SCR 55 A"], ["SCR 55 A"]],
  ["SCR5", ["SCR 50 A", "SCR 55 A"], []],
  ["voltage", ["open circuit voltage", "set voltage", "limit"], ["set voltage", "open circuit voltage"]],
  ["20", ["blade fuse 20 A"], []],
  ["a", ["a b"], []],
  ["x".repeat(5000), ["name"], []],
])("%s is held by %j", (word, names, holding) => {
  expect(namesHolding(word, names)).toEqual(holding);
});
