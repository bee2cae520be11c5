import { expect, test } from "vitest";
import { checkCells } from "../../../packages/notebooks/build/cell-types.ts";
import { code, prose, sample } from "./sample.ts";

// All in one go: most of the time the checker reads the language's own declarations.
const cells = {
  wrong: code(1, 'const fine = 1;\n    const wrong: number = "text";'),
  together: [
    code(1, "const sum: number = later + volts + parseQuantity.length;"),
    code(2, "const later = Promise.resolve(1);"),
    code(3, "const volts = view({} as Element & { value: number });"),
    code(4, 'import { parseQuantity } from "@railfault/sim";'),
    code(5, "interface Pair { readonly a: number }"),
    code(6, "const pair: Pair = { a: width };"),
    prose(7, "${pair.a.toFixed(1)} of ${sum}"),
  ].join("\n"),
  live: code(1, "const volts = view({} as Element & { value: number });\n    volts + 1;"),
  spoken: `${code(1, "const a: number = 1;")}\n${prose(2, "first\n    so ${a.length} and ${b}")}`,
  object: code(1, "{ a: 1, b: width }"),
  idle: code(1, 'import { parseQuantity } from "@railfault/sim";'),
  indented: '  <script id="1" type="text/x-typescript">const a: string = 1;</script>',
};

const found = checkCells(Object.entries(cells).map(([name, text]) => sample(text, 'description="d"', name)));
const about = (name: keyof typeof cells) =>
  found
    .filter(({ file }) => file === `packages/notebooks/pages/${name}.html`)
    .map(({ line, column, message }) => `${line}:${column} ${message}`);

test("a mistake is found on its line and column of the notebook", () => {
  expect(about("wrong")).toEqual(["6:11 TS2322: Type 'string' is not assignable to type 'number'."]);
  expect(about("indented")).toEqual(["4:49 TS2322: Type 'number' is not assignable to type 'string'."]);
});

test("what other cells and imports give is known, whatever their order", () => {
  expect(about("together")).toEqual([]);
});

test("a live value is no number in its own cell", () => {
  expect(about("live")).toEqual([expect.stringMatching(/^6:5 TS2365: .*Live<number>/)]);
});

test("the expressions of prose are read", () => {
  expect(about("spoken")).toEqual([
    "9:12 TS2339: Property 'length' does not exist on type 'number'.",
    "9:26 TS2304: Cannot find name 'b'.",
  ]);
});

test("an object is an object where the cell is an expression", () => {
  expect(about("object")).toEqual([]);
});

test("an import that nobody uses is found", () => {
  expect(about("idle")).toEqual([expect.stringContaining("TS6133")]);
});
