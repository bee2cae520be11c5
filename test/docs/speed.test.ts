import { expect, test } from "vitest";
import { allCases } from "../../packages/sim/bench/cases.ts";
import { benchUsage, readBenchOptions } from "../../packages/sim/bench/options.ts";
import { readDocument, readDocuments, spansOf } from "./markdown.ts";

const speed = readDocument("packages/sim/docs/speed.md");

/** What stands behind `npm run bench --` in the documents. */
function benchCalls(): string[][] {
  return readDocuments().flatMap((document) => {
    const blocks = document.blocks.filter(({ language }) => language === "sh").flatMap(({ text }) => text.split("\n"));
    return [...blocks, ...spansOf(document)].flatMap((line) => {
      const words = /^npm run (?:-s )?bench(?: -- (.*))?$/.exec(line.replace(/\s#.*$/, "").trim());
      return words === null ? [] : [(words[1] ?? "").split(/\s+/).filter((word) => word !== "")];
    });
  });
}

test("every call of the bench in a document is one that it takes", () => {
  const calls = benchCalls();
  expect(calls.length).toBeGreaterThan(5);
  for (const words of calls) expect(readBenchOptions(words), words.join(" ")).not.toHaveProperty("problem");
  expect(readBenchOptions(["--loud"])).toHaveProperty("problem");
});

test("every option that the page names is one of the bench's own", () => {
  const named = spansOf(speed).filter((span) => /^--[a-z]/.test(span));
  expect(named.length).toBeGreaterThan(2);
  for (const option of named) expect(benchUsage).toContain(`  ${option} `);
});

test("the tables stand in their place, with a row for every case or a word that it was left out", () => {
  const [, tables = ""] = /<!-- tables: begin -->\n([\s\S]*)\n<!-- tables: end -->/.exec(speed.text) ?? [];
  expect(tables).toMatch(/^\nMeasured on \d{4}-\d\d-\d\d: \d+ cores, /);
  const leftOut = /Not measured this time: (.*)\./.exec(tables)?.[1]?.split(", ") ?? [];
  for (const { id } of allCases()) expect(tables.includes(`| ${id}: `), id).toBe(!leftOut.includes(id));
  expect(tables.includes("random faults on")).toBe(!leftOut.includes("e"));
  // More than half of them say how fast it is.
  expect(leftOut.length).toBeLessThan(4);
});

test("the bench claims nothing of a language", () => {
  expect(speed.text).toContain("the method, not the language");
});
