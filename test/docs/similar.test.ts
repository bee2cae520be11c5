import { expect, test } from "vitest";
import { figureDifferences, piecesMissing, roughly } from "./similar.ts";

test("pieces must stand in the whole, in their order", () => {
  expect(piecesMissing("a\n…\nc\n", "a\nb\nc\n")).toEqual([]);
  expect(piecesMissing("c\n…\na\n", "a\nb\nc\n")).toEqual(["a\n"]);
  expect(piecesMissing("a\n…\nx\n", "a\nb\nc\n")).toEqual(["x\n"]);
});

test("only the last bits of the energy balance may differ in a text", () => {
  const line = (number: string) => `  Closes: ${number} of the energy turned over is unaccounted for.`;
  expect(roughly(line("3.2e-9"))).toBe(roughly(line("3.4e-9")));
  expect(roughly("at most 14.7 V")).not.toBe(roughly("at most 14.8 V"));
});

test("a figure may differ in the points of a curve, not in a word or a place", () => {
  const figure = (d: string, x: string, word: string) =>
    `<g><path class="a" d="${d}"/><text x="${x}">${word}</text></g>`;
  const one = figure("M0,0L1,1", "10.2", "14.7 V");
  expect(figureDifferences(one, figure("M0,0L2,2L3,3", "10.9", "14.7 V"))).toEqual([]);
  expect(figureDifferences(one, figure("M0,0L1,1", "12.2", "14.7 V"))).toHaveLength(1);
  expect(figureDifferences(one, figure("M0,0L1,1", "10.2", "14.8 V"))).toHaveLength(1);
  expect(figureDifferences(one, `${one}<g/>`)).toHaveLength(1);
});
