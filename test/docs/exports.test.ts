import { expect, test } from "vitest";
import { entries, publicExports, undocumented } from "../support/public-exports.ts";

const all = publicExports();

test("every entry of the library is read", () => {
  for (const entry of Object.keys(entries))
    expect(all.filter((found) => found.entry === entry).length, entry).toBeGreaterThan(2);
  expect(all.map(({ name }) => name)).toEqual(expect.arrayContaining(["runScenario", "faultFigure", "renderPng"]));
});

test("everything that is exported says what it is, its methods too", () => {
  expect(all.flatMap(undocumented)).toEqual([]);
});
