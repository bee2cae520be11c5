import { describe, expect, test } from "vitest";
import { builtModule } from "../../../packages/notebooks/build/cells-module.ts";
import type { Notebook } from "../../../packages/notebooks/build/notebook.ts";
import { compileCells } from "../../../packages/notebooks/build/transpile.ts";
import { code, sample } from "./sample.ts";

const compile = (notebook: Notebook) => compileCells(notebook, { hot: false });
const places = { page: "page", frame: "frame", keepValues: "values", keepScroll: "scroll" };

describe("cells", () => {
  test("say what they take from others and what they give them", () => {
    const [first, second] = compile(
      sample(`${code(1, "const a: number = b + Math.PI;")}\n${code(2, "const b = 1, c = 2;")}`),
    );
    expect([first?.inputs, first?.outputs]).toEqual([["b"], ["a"]]);
    expect([second?.inputs, second?.outputs]).toEqual([[], ["b", "c"]]);
  });

  test("hand their imports to the page's module, for all cells; types vanish", () => {
    const notebook = sample(
      `${code(1, 'import { parseQuantity as parse, type Issue } from "@railfault/sim"; const a: Issue[] = [];')}\n${code(2, "parse(a)")}`,
    );
    const text = builtModule(notebook, places);
    expect(text).toContain('import { parseQuantity as parse } from "@railfault/sim";');
    expect(text).not.toContain("Issue");
    expect(text).not.toContain("import(");
    expect(compile(notebook).map(({ inputs }) => inputs)).toEqual([[], ["a"]]);
  });

  test("have a key that changes with their text, and with where an imported name comes from", () => {
    const key = (cells: string, index = 0) => /key: "(\w+)"/.exec(compile(sample(cells))[index]!.code)?.[1];
    expect(key(code(1, "1"))).toBe(key(code(1, "1")));
    expect(key(code(1, "1"))).not.toBe(key(code(1, "2")));
    const user = (source: string) => `${code(1, `import { x } from "${source}";`)}\n${code(2, "x")}`;
    expect(key(user("@railfault/sim"), 1)).not.toBe(key(user("@railfault/sim/figures"), 1));
  });

  test.each([
    ["an import of something else", code(1, 'const a = 1;\n    import { x } from "d3";'), /:6: .*"d3"; allowed are/],
    ["an import amid the code", code(1, 'const a = await import("@railfault/sim");'), /:5: .*at its top only/],
    ["an export", code(1, "export const a = 1;"), /:5: a cell exports nothing/],
    [
      "a name that two cells define",
      `${code(1, "const a = 1;")}\n${code(2, "const a = 2;")}`,
      /:8: cell 2 defines a, as cell 1/,
    ],
    ["a mistake in its language", code(1, "const a = 1;\n    const = 2;"), /:6: cell 1: /],
  ])("are refused with %s, by file and line", (_, cells, message) => {
    expect(() => compile(sample(cells))).toThrow(message);
  });
});
