import papaparse from "papaparse";
import { expect, test } from "vitest";
import { cellsOf } from "../../packages/sim/src/capture/read/csv.ts";

/** Blanks beside quotes are the cell's or nobody's, as one reads it; numbers and names are taken without them. */
const bare = (rows: readonly (readonly string[])[]): string[][] =>
  rows.map((row) => row.map((cell) => cell.replaceAll(" ", "")));

test("cells are those that an independent parser finds wherever it finds nothing wrong", () => {
  const marks = ['"', '"', ",", ";", "\n", "1", "a", " ", '""', '"1"', ',"'];
  let state = 7;
  const below = (bound: number): number => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return Math.floor((state / 2 ** 32) * bound);
  };
  let held = 0;
  for (let round = 0; round < 20_000; round++) {
    const text = Array.from({ length: 1 + below(10) }, () => marks[below(marks.length)]).join("");
    const { data, errors } = papaparse.parse(text, { delimiter: ",", newline: "\n" });
    if (errors.length > 0) continue;
    expect(bare(cellsOf(text, ","))).toEqual(bare(data as string[][]));
    held++;
  }
  expect(held).toBeGreaterThan(5000);
});

test("what is not closed ends with the text, and takes no longer for that", () => {
  expect(cellsOf('1,"2', ",")).toEqual([["1", "2"]]);
  expect(cellsOf(`1,"${'" '.repeat(50_000)}`, ",")).toHaveLength(1);
});
