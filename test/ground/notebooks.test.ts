import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { readNotebooks } from "../../packages/notebooks/build/notebook.ts";
import { compileCells } from "../../packages/notebooks/build/transpile.ts";
import { circles, closure, documentImports, nodeImports } from "./detect-imports.ts";
import { wrongInBuild, wrongInNotebooks } from "./detect-notebooks.ts";
import { moduleState } from "./detect-text.ts";
import { root } from "./files.ts";
import { parseSource, readSources } from "./source.ts";

const folder = join(root, "packages/notebooks");
const sources = readSources(join(folder, "src"));
const build = readSources(join(folder, "build"));

test("the notebooks' sources were found", () => {
  const paths = sources.map(({ path }) => path);
  for (const path of ["index.ts", "base/page.ts", "run/run.worker.ts"]) expect(paths).toContain(path);
  expect(build.map(({ path }) => path)).toContain("plugin.ts");
});

describe("imports", () => {
  test("of the pages' sources flow in one direction", () => {
    expect(wrongInNotebooks(sources)).toEqual([]);
  });

  test("of the build reach the pages' base only", () => {
    expect(wrongInBuild(build)).toEqual([]);
  });

  test("never come back to where they began", () => {
    expect([...circles(sources), ...circles(build)]).toEqual([]);
  });

  test.each(["run/run.worker.ts", "run/capture.worker.ts"])("reach no document from %s", (worker) => {
    const loaded = closure(sources, worker);
    expect(loaded.length).toBeGreaterThan(0);
    expect([...nodeImports(loaded), ...documentImports(loaded)]).toEqual([]);
  });

  test("of the cells are those that a cell may have", () => {
    const notebooks = readNotebooks(join(folder, "pages"));
    expect(notebooks.length).toBeGreaterThan(0);
    for (const notebook of notebooks)
      expect(compileCells(notebook, { hot: false }), notebook.name).toHaveLength(notebook.cells.length);
  });
});

test("no module of the notebooks keeps state", () => {
  expect([...sources, ...build].flatMap(moduleState)).toEqual([]);
});

// What the check sees, shown on small offenders.
describe("the order of the notebooks' folders", () => {
  const complaints = (path: string, specifier: string) =>
    wrongInNotebooks([parseSource(path, `import "${specifier}";`)]);

  test.each([
    ["show/a.ts", "../controls/index.ts"],
    ["line/a/b.ts", "../../kept/b.ts"],
    ["line/a.ts", "../show/index.ts"],
    ["index.ts", "./line/a.ts"],
    ["base/a.ts", "./b.ts"],
    ["run/a.ts", "@railfault/sim"],
    ["show/a.ts", "@railfault/sim/figures"],
    ["kept/a.ts", "idb"],
  ])("lets %s import %s", (path, specifier) => {
    expect(complaints(path, specifier)).toEqual([]);
  });

  test.each([
    ["controls/a.ts", "../kept/b.ts", "against the order"],
    ["show/a.ts", "../line/b.ts", "against the order"],
    ["line/a.ts", "../index.ts", "against the order"],
    ["show/a.ts", "../base/page.ts", "stands apart"],
    ["base/a.ts", "../controls/b.ts", "stands apart"],
    ["index.ts", "./base/page.ts", "stands apart"],
    ["show/a.ts", "../../build/b.ts", "outside"],
    ["controls/a.ts", "@railfault/sim", "knows nothing of lines"],
    ["run/a.ts", "@railfault/sim/figures", "no document"],
    ["line/a.ts", "@railfault/sim/node", "see @railfault/sim and"],
    ["line/a.ts", "node:fs", "nothing of Node"],
    ["helpers/a.ts", "idb", "no known folder"],
  ])("does not let %s import %s", (path, specifier, reason) => {
    expect(complaints(path, specifier)).toEqual([expect.stringContaining(reason)]);
  });

  test("lets the build import the base and nothing else of the pages", () => {
    const of = (specifier: string) => wrongInBuild([parseSource("a.ts", `import "${specifier}";`)]);
    expect([of("./b.ts"), of("../src/base/builtins.ts"), of("vite")]).toEqual([[], [], []]);
    expect(of("../src/show/index.ts")).toHaveLength(1);
  });
});
