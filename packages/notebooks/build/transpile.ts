// Cells as definitions for the page's runtime, as source text of its module.
import { createHash } from "node:crypto";
import { type TranspiledJavaScript, transpile, transpileJavaScript } from "@observablehq/notebook-kit";
import { type ImportedName, importTable, splitImports } from "./imports.ts";
import { interpolations, renderProse } from "./markdown.ts";
import type { Notebook, NotebookCell } from "./notebook.ts";
import { NotebookProblem } from "./problem.ts";
import { syntaxOf } from "./syntax.ts";

/** A definition and what it stands on. */
export interface CompiledCell {
  readonly id: number;
  /** The source of the object literal that the page's module hands to the runtime. */
  readonly code: string;
  /** Names it defines for the other cells. */
  readonly outputs: readonly string[];
  /** Names that it takes from elsewhere, imports of the page excepted. */
  readonly inputs: readonly string[];
  /** The rendered prose of a prose cell. */
  readonly html: string | null;
}

/**
 * Turns the cells of a notebook into definitions. Throws where one cannot be read or two define the same name.
 * `hot` definitions bring along what stands in the page of the built site: rendered prose and the cell's text.
 */
export function compileCells(notebook: Notebook, options: { readonly hot: boolean }): CompiledCell[] {
  const imports = importTable(notebook);
  const cells = notebook.cells.map((cell) =>
    cell.kind === "ts"
      ? compileCode(notebook, cell, imports, options.hot)
      : compileProse(notebook, cell, imports, options.hot),
  );
  refuseDoubles(notebook, cells, imports);
  return cells;
}

function compileCode(
  notebook: Notebook,
  cell: NotebookCell,
  imports: Map<string, ImportedName>,
  hot: boolean,
): CompiledCell {
  const { text } = splitImports(notebook, cell);
  refuseBroken(notebook, cell);
  const transpiled = located(notebook, cell, () => transpile({ ...cell.kit, value: text }));
  const { inputs, body } = bound(transpiled, imports);
  const { outputs = [], autodisplay = false } = transpiled;
  const fields = [
    `body: ${body}`,
    `inputs: ${JSON.stringify(inputs)}`,
    `outputs: ${JSON.stringify(outputs)}`,
    `autodisplay: ${autodisplay}`,
    ...(hot ? [`text: ${JSON.stringify(cell.text)}`] : []),
  ];
  return { id: cell.id, code: literal(cell, fields, usedSources(transpiled, imports)), outputs, inputs, html: null };
}

function compileProse(
  notebook: Notebook,
  cell: NotebookCell,
  imports: Map<string, ImportedName>,
  hot: boolean,
): CompiledCell {
  const all: string[] = [];
  const sources: string[] = [];
  const values = interpolations(notebook, cell).map(({ expression }) => {
    const transpiled = located(notebook, cell, () => transpileJavaScript(expression));
    const { inputs, body } = bound(transpiled, imports);
    all.push(...inputs);
    sources.push(...usedSources(transpiled, imports));
    return `{ body: ${body}, inputs: ${JSON.stringify(inputs)} }`;
  });
  const html = renderProse(notebook, cell);
  const fields = [
    `values: [${values.join(", ")}]`,
    ...(hot ? [`html: ${JSON.stringify(html)}`, `text: ${JSON.stringify(cell.text)}`] : []),
  ];
  return { id: cell.id, code: literal(cell, fields, sources), outputs: [], inputs: [...new Set(all)], html };
}

/** Binds imported names to the module's own imports; what is left comes from other cells and from the runtime. */
function bound({ inputs = [], body }: TranspiledJavaScript, imports: Map<string, ImportedName>) {
  const isImported = (name: string) => imports.has(name) && !imports.get(name)!.typeOnly;
  const left = inputs.filter((name) => !isImported(name));
  if (left.length === inputs.length) return { inputs: left, body };
  return { inputs: left, body: `(${left}) => (${body})(${inputs})` };
}

function usedSources({ inputs = [] }: TranspiledJavaScript, imports: Map<string, ImportedName>): string[] {
  return inputs.flatMap((name) => {
    const from = imports.get(name);
    return from ? [`${name} ${from.exported} ${from.source}`] : [];
  });
}

// The key says whether a cell has changed: its code and where its imported names come from.
function literal(cell: NotebookCell, fields: readonly string[], sources: readonly string[]): string {
  const key = createHash("sha256")
    .update([...fields, ...sources].join("\n"))
    .digest("hex")
    .slice(0, 12);
  return `{ id: ${cell.id}, kind: ${JSON.stringify(cell.kind)}, key: "${key}", ${fields.join(", ")} }`;
}

function refuseBroken({ file }: Notebook, cell: NotebookCell): void {
  const { problem } = syntaxOf(cell.text);
  if (problem) throw new NotebookProblem(file, cell.line + problem.line, `cell ${cell.id}: ${problem.message}`);
}

function located<T>(notebook: Notebook, cell: NotebookCell, work: () => T): T {
  try {
    return work();
  } catch (error) {
    // Where the reader stands in what was made of the cell says nothing about the file.
    const message = (error as Error).message.replace(/ \(\d+:\d+\)$/, "");
    throw new NotebookProblem(notebook.file, cell.line, `cell ${cell.id} cannot be read: ${message}`);
  }
}

function refuseDoubles(
  notebook: Notebook,
  cells: readonly CompiledCell[],
  imports: ReadonlyMap<string, ImportedName>,
): void {
  const owner = new Map<string, number>();
  cells.forEach(({ id, outputs }, index) => {
    for (const name of outputs) {
      const other = owner.get(name) ?? imports.get(name)?.cell;
      const { line } = notebook.cells[index]!;
      if (other !== undefined)
        throw new NotebookProblem(notebook.file, line, `cell ${id} defines ${name}, as cell ${other} does`);
      owner.set(name, id);
    }
  });
}
