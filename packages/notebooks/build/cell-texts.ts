// Cells as TypeScript files for the type check. Everything of a cell stands where it stands in its notebook file, to the column; the rest
// of the file is blank. What the cell takes from elsewhere is declared on the first line, which belongs to no cell.
import { join } from "node:path";
import ts from "typescript";
import { builtinNames } from "../src/base/builtins.ts";
import { type ImportedName, importStatement, importTable, splitImports } from "./imports.ts";
import { interpolations } from "./markdown.ts";
import type { Notebook, NotebookCell } from "./notebook.ts";
import { syntaxOf } from "./syntax.ts";
import { compileCells } from "./transpile.ts";

/** A cell as a file of its own that stands beside its notebook; it exists for the type check only. */
export interface CellText {
  readonly path: string;
  readonly notebook: Notebook;
  readonly cell: NotebookCell;
  readonly text: string;
  /** The length of the declarations before the cell's own text. */
  readonly preamble: number;
}

/** All cells of a notebook as TypeScript. */
export function cellTexts(notebook: Notebook): CellText[] {
  const imports = importTable(notebook);
  const compiled = compileCells(notebook, { hot: false });
  const values = new Map<string, number>();
  const types = new Map<string, number>();
  notebook.cells.forEach((cell, index) => {
    for (const name of compiled[index]!.outputs) values.set(name, cell.id);
    if (cell.kind === "ts") for (const name of declaredTypes(cell.text)) types.set(name, cell.id);
  });
  return notebook.cells.map((cell, index) => {
    const { outputs } = compiled[index]!;
    const own = cell.kind === "ts" ? splitImports(notebook, cell).names : [];
    const taken = new Set([...own.map(({ local }) => local), ...outputs]);
    const words = wordsOf(cell);
    // What a cell imports for others is used.
    const lent = own.filter(({ local }) => notebook.cells.some((each) => each !== cell && wordsOf(each).has(local)));
    const preamble = declarations({ notebook, cell, imports, values, types, taken, words });
    const body = cell.kind === "ts" ? placedCode(notebook, cell) : placedExpressions(notebook, cell);
    const exported = [
      ...outputs,
      ...lent.map(({ local, typeOnly }) => (typeOnly ? `type ${local}` : local)),
      ...[...types].filter(([, id]) => id === cell.id).map(([name]) => `type ${name}`),
    ];
    const text = `${preamble}${body}\nexport { ${exported.join(", ")} };\n`;
    return { path: pathOf(notebook, cell.id), notebook, cell, text, preamble: preamble.length };
  });
}

interface Surroundings {
  readonly notebook: Notebook;
  readonly cell: NotebookCell;
  readonly imports: ReadonlyMap<string, ImportedName>;
  readonly values: ReadonlyMap<string, number>;
  readonly types: ReadonlyMap<string, number>;
  /** What the cell itself defines or imports. */
  readonly taken: ReadonlySet<string>;
  /** Every word of its text: what it does not say, it does not need. */
  readonly words: ReadonlySet<string>;
}

function declarations({ notebook, cell, imports, values, types, taken, words }: Surroundings): string {
  const needed = (name: string): boolean => words.has(name) && !taken.has(name);
  const found: string[] = [];
  const other = (id: number): string => JSON.stringify(`./${notebook.name}.cell-${id}.ts`);
  const known = new Set<string>();
  for (const [name, each] of imports)
    if (needed(name)) {
      known.add(name);
      found.push(importStatement(each));
    }
  for (const [name, id] of values)
    if (needed(name) && id !== cell.id) {
      known.add(name);
      found.push(`declare const ${name}: Resolved${cell.id}<typeof import(${other(id)}).${name}>;`);
    }
  for (const [name, id] of types)
    if (needed(name) && id !== cell.id && !known.has(name)) found.push(`import type { ${name} } from ${other(id)};`);
  for (const name of builtinNames)
    if (needed(name) && !known.has(name)) found.push(`declare const ${name}: Builtins${cell.id}["${name}"];`);
  const heads = [
    `import type { Builtins as Builtins${cell.id} } from "../src/base/builtins.ts";`,
    `import type { Resolved as Resolved${cell.id} } from "../src/base/live.ts";`,
  ];
  return [...heads, ...found].join(" ");
}

function wordsOf({ text }: NotebookCell): Set<string> {
  return new Set(text.match(/[A-Za-z_$][\w$]*/g));
}

function pathOf({ file, name }: Notebook, id: number): string {
  return join(file, "..", `${name}.cell-${id}.ts`);
}

function blank(text: string): string {
  return text.replace(/[^\n]/g, " ");
}

function placedCode({ source }: Notebook, { begin, raw, text }: NotebookCell): string {
  const before = blank(source.slice(0, begin));
  const code = raw.replace(/<\\(?=\\*\/script)/gi, "< ");
  // An expression is read as one, also where it begins like a block.
  if (!syntaxOf(text).expression) return before + code;
  const [from, to] = [code.search(/\S/), code.trimEnd().length];
  const opened =
    from === 0 ? `${before.slice(0, -1)}(${code}` : `${before}${code.slice(0, from - 1)}(${code.slice(from)}`;
  return `${opened.slice(0, begin + to)})${opened.slice(begin + to)}`;
}

// The text of a cell lacks the indentation of the file: lines are found one by one.
function placedExpressions(notebook: Notebook, cell: NotebookCell): string {
  const { source } = notebook;
  const placed = [...blank(source.slice(0, cell.begin) + cell.raw)];
  const start = cell.begin + (/^[ \t]*\r?\n/.exec(cell.raw)?.[0].length ?? 0);
  const rawLines = source.slice(start, cell.begin + cell.raw.length).split("\n");
  const place = (offset: number): number => {
    const lines = cell.text.slice(0, offset).split("\n");
    const line = lines.length - 1;
    const full = cell.text.split("\n")[line]!;
    const above = rawLines.slice(0, line).reduce((sum, each) => sum + each.length + 1, 0);
    const indent = rawLines[line]!.replace(/\r$/, "").length - full.length;
    return start + above + indent + lines.at(-1)!.length;
  };
  for (const { expression, begin, end } of interpolations(notebook, cell)) {
    const [from, to] = [place(begin), place(end)];
    placed[from - 2] = ";";
    placed[from - 1] = "(";
    placed[to] = ")";
    for (let index = 0; index < expression.length; index++) placed[place(begin + index)] = expression[index]!;
  }
  return placed.join("");
}

function declaredTypes(text: string): string[] {
  const file = ts.createSourceFile("cell.ts", text, ts.ScriptTarget.Latest);
  return file.statements.flatMap((statement) =>
    ts.isInterfaceDeclaration(statement) || ts.isTypeAliasDeclaration(statement) ? [statement.name.text] : [],
  );
}
