import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { circles, closure, documentImports, nodeImports, translators, wrongFlow } from "./detect-imports.ts";
import { electricalWords, lineCount, moduleState } from "./detect-text.ts";
import { filesBelow, root } from "./files.ts";
import { unknownNames } from "./neutral.ts";
import { readSources } from "./source.ts";

const sourceFolder = join(root, "packages/sim/src");
const files = readSources(sourceFolder);
const inFolder = (...names: string[]) => files.filter(({ path }) => names.some((name) => path.startsWith(`${name}/`)));

test("the library was found", () => {
  expect(files.map(({ path }) => path)).toContain("scenario/types.ts");
});

describe("imports", () => {
  test("flow in one direction", () => {
    expect(wrongFlow(files)).toEqual([]);
  });

  test("never come back to where they began", () => {
    expect(circles(files)).toEqual([]);
    expect(circles(readSources(join(root, "test")))).toEqual([]);
  });

  test("bring scenario and devices together in one file only", () => {
    expect(translators(files).filter((path) => path !== "model/assemble.ts")).toEqual([]);
  });

  test("reach no Node module and no document from the entry `.`", () => {
    const loaded = closure(files, "index.ts");
    expect([...nodeImports(loaded), ...documentImports(loaded)]).toEqual([]);
  });

  test("reach no Node module from the entry `./figures`", () => {
    expect(nodeImports(closure(files, "figures.ts"))).toEqual([]);
  });

  test("bring no Node module into the scenario stage", () => {
    expect(nodeImports(inFolder("scenario"))).toEqual([]);
  });
});

test("the entry `.` uses no name of a document or of Node", () => {
  expect(unknownNames(sourceFolder, "index.ts")).toEqual([]);
}, 60_000);

describe("text", () => {
  test("of the integrators and of the hybrid loop holds no electrical word", () => {
    expect(inFolder("ode", "hybrid").flatMap(electricalWords)).toEqual([]);
  });

  test("of every source file stays below 300 lines", () => {
    const endings = [".ts", ".tsx", ".mjs", ".js", ".html", ".css"];
    const long = ["packages", "test"].flatMap((folder) =>
      filesBelow(join(root, folder), endings)
        .map((path) => ({
          path: `${folder}/${path}`,
          lines: lineCount(readFileSync(join(root, folder, path), "utf8")),
        }))
        .filter(({ lines }) => lines >= 300),
    );
    expect(long).toEqual([]);
  });

  test("holds no mutable state of a module", () => {
    expect(files.flatMap(moduleState)).toEqual([]);
  });
});
