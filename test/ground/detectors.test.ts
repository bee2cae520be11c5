import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { circles, closure, documentImports, nodeImports, translators, wrongFlow } from "./detect-imports.ts";
import { electricalWords, lineCount, moduleState } from "./detect-text.ts";
import { root } from "./files.ts";
import { unknownNames } from "./neutral.ts";
import { parseSource } from "./source.ts";

// The checks of the tree are worth something only if they see what they look for: each is shown a small offender.

const file = (path: string, text: string) => parseSource(path, text);

describe("imports are read", () => {
  test("in every form in which a file can be named", () => {
    const { imports } = file(
      "model/a.ts",
      `import { b } from "./b.ts";
       import type { C } from "../ode/c.ts";
       import { type D } from "./d.ts";
       export * from "./e.ts";
       export type { F } from "./f.ts";
       const g = await import("./g.ts");
       let h: import("./h.ts").H;
       import "zod";`,
    );
    expect(imports.map(({ target, specifier, typeOnly }) => [target ?? specifier, typeOnly])).toEqual([
      ["model/b.ts", false],
      ["ode/c.ts", true],
      ["model/d.ts", false],
      ["model/e.ts", false],
      ["model/f.ts", true],
      ["model/g.ts", false],
      ["model/h.ts", true],
      ["zod", false],
    ]);
  });
});

describe("the flow", () => {
  const complaints = (path: string, specifier: string) => wrongFlow([file(path, `import "${specifier}";`)]);

  test.each([
    ["model/a.ts", "../devices/b.ts"],
    ["model/a.ts", "./b.ts"],
    ["scenario/parts/a.ts", "../types.ts"],
    ["cli/main.ts", "../reference/a.ts"],
    ["index.ts", "./verdict/a.ts"],
    ["hybrid/a.ts", "../trace/a.ts"],
    ["ode/a.ts", "odex"],
  ])("%s may import %s", (path, specifier) => {
    expect(complaints(path, specifier)).toEqual([]);
  });

  test.each([
    ["devices/a.ts", "../model/b.ts", "later stage"],
    ["cli/main.ts", "../index.ts", "later stage"],
    ["ode/a.ts", "../units/b.ts", "does not know the input"],
    ["devices/a.ts", "../scenario/types.ts", "does not know the input"],
    ["hybrid/a.ts", "../issue/issue.ts", "does not know the input"],
    ["verdict/a.ts", "../../bench/b.ts", "no stage"],
    ["helpers/a.ts", "zod", "no stage"],
    ["cli/a.ts", "@railfault/sim", "from outside"],
  ])("%s may not import %s", (path, specifier, reason) => {
    expect(complaints(path, specifier)).toEqual([expect.stringContaining(reason)]);
  });

  test("a type-only import counts", () => {
    expect(wrongFlow([file("trace/a.ts", `import type { B } from "../hybrid/b.ts";`)])).toHaveLength(1);
  });

  test("a file between scenario and devices is named", () => {
    const text = `import type { Scenario } from "../scenario/types.ts"; import { fuse } from "../devices/fuse.ts";`;
    expect(translators([file("verdict/a.ts", text), file("model/b.ts", `import "../devices/c.ts";`)])).toEqual([
      "verdict/a.ts",
    ]);
  });
});

describe("circles", () => {
  test("of two, of three and of one are found, a diamond is none", () => {
    const a = file("ode/a.ts", `import "./b.ts"; import "./c.ts";`);
    const b = file("ode/b.ts", `import "./c.ts";`);
    expect(circles([a, b, file("ode/c.ts", "")])).toEqual([]);
    expect(circles([a, b, file("ode/c.ts", `import type { A } from "./a.ts";`)])).toEqual([
      "ode/a.ts → ode/b.ts → ode/c.ts → ode/a.ts",
    ]);
    expect(circles([a, file("ode/b.ts", `import "./a.ts";`)])).toEqual(["ode/a.ts → ode/b.ts → ode/a.ts"]);
    expect(circles([file("ode/s.ts", `import "./s.ts";`)])).toEqual(["ode/s.ts → ode/s.ts"]);
  });
});

describe("what an entry loads", () => {
  const sources = [
    file("index.ts", `export * from "./report/a.ts"; import type { N } from "./cli/n.ts";`),
    file(
      "report/a.ts",
      `import { readFileSync } from "node:fs"; import { JSDOM } from "jsdom"; import path from "path";`,
    ),
    file("cli/n.ts", `import "node:os";`),
  ];

  test("is followed through values and not through types", () => {
    expect(closure(sources, "index.ts").map(({ path }) => path)).toEqual(["index.ts", "report/a.ts"]);
    expect(closure(sources, "figures.ts")).toEqual([]);
  });

  test("is searched for Node's modules and for documents", () => {
    const loaded = closure(sources, "index.ts");
    expect(nodeImports(loaded)).toEqual(["report/a.ts imports node:fs", "report/a.ts imports path"]);
    expect(documentImports(loaded)).toEqual(["report/a.ts imports jsdom"]);
    expect(nodeImports([file("a.ts", `import type { Stats } from "node:fs";`)])).toEqual([]);
  });
});

describe("names that a neutral place lacks", () => {
  const folder = join(root, "packages/sim/src");

  test.each(["document", "window", "process", "Buffer", "setTimeout"])("%s is one", (name) => {
    expect(unknownNames(folder, "index.ts", `export const offender = ${name};`)).toEqual([
      expect.stringContaining(`'${name}'`),
    ]);
  });

  test("what the language itself brings is none", () => {
    expect(unknownNames(folder, "index.ts", "export const fine = Math.max(...new Float64Array(2));")).toEqual([]);
  });
});

describe("electrical words", () => {
  const words = (text: string) => electricalWords({ path: "ode/a.ts", text });

  test.each(["overvoltage", "AMPERE", "ohmic", "mainFuse", "Supply", "battery", "clampValue", "lamps", "capacity"])(
    "%s is one",
    (word) => {
      expect(words(`// first\nconst ${word} = 1;`)).toHaveLength(1);
    },
  );

  test.each(["inductance", "resistive", "scr", "SCR", "SCRs", "scrCurrent", "isScr"])("%s is one", (word) => {
    expect(words(`const ${word} = 1;`)).toEqual([expect.stringMatching(/^ode\/a\.ts:1: /)]);
  });

  test.each(["script", "description", "subscript", "evolution", "state", "current", "power"])("%s is none", (word) => {
    expect(words(`const ${word} = 1;`)).toEqual([]);
  });
});

test("lines are counted without the last newline", () => {
  expect(["", "a", "a\n", "a\nb", "a\n\n"].map(lineCount)).toEqual([0, 1, 1, 2, 2]);
});

describe("state of a module", () => {
  test.each([
    "let count = 0;",
    "var count = 0;",
    "const seen = new Map(); export function f() { seen.set(1, 2); }",
    "const scratch = new Float64Array(3); export const f = () => { scratch[0] = 1; };",
    "const counts = { a: 0 }; export function f() { counts.a++; }",
    "const list: number[] = []; export class A { m() { list.push(1); } }",
  ])("is found in: %s", (text) => {
    expect(moduleState(file("ode/a.ts", text))).toHaveLength(1);
  });

  test.each([
    "const table = new Map(); for (const n of [1, 2]) table.set(n, n);",
    "export function f() { let count = 0; count++; return count; }",
    "const limits = [1, 2]; export const f = (n: number) => limits[n];",
    "const seen = 1; export function f() { const seen = new Set(); seen.add(1); }",
    "declare let external: number;",
  ])("is not found in: %s", (text) => {
    expect(moduleState(file("ode/a.ts", text))).toEqual([]);
  });
});
