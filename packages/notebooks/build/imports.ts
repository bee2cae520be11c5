// The imports of a page's cells. They are lifted out of the cells to the head of the page's module: loaded before anything runs,
// shaken like those of any module, and known in every cell of the page.
import ts from "typescript";
import type { Notebook, NotebookCell } from "./notebook.ts";
import { NotebookProblem } from "./problem.ts";

/** What a cell may import: the face of the notebooks and the public entries of the library. */
const allowedSources = ["../src/index.ts", "@railfault/sim", "@railfault/sim/figures"] as const;

/** One imported name of a page. */
export interface ImportedName {
  /** As the cells call it. */
  readonly local: string;
  /** As its module calls it; `*` for the whole module. */
  readonly exported: string;
  readonly source: string;
  readonly typeOnly: boolean;
  /** The cell that imports it. */
  readonly cell: number;
}

/** A cell's text with its imports taken out, line for line, and what these were. */
export interface WithoutImports {
  readonly text: string;
  readonly names: readonly ImportedName[];
}

/** Takes the imports out of one TypeScript text. Throws a {@link NotebookProblem} where a cell imports what it may not. */
export function splitImports(notebook: Pick<Notebook, "file">, cell: NotebookCell): WithoutImports {
  const tree = ts.createSourceFile("cell.ts", cell.text, ts.ScriptTarget.Latest, true);
  const names: ImportedName[] = [];
  let text = cell.text;
  const complain = (node: ts.Node, what: string): never => {
    throw new NotebookProblem(
      notebook.file,
      cell.line + tree.getLineAndCharacterOfPosition(node.getStart()).line,
      what,
    );
  };
  const check = (node: ts.Node, source: string): void => {
    if (!(allowedSources as readonly string[]).includes(source))
      complain(node, `a cell imports "${source}"; allowed are ${allowedSources.join(", ")}`);
  };
  for (const statement of tree.statements) {
    if (isExport(statement))
      complain(statement, "a cell exports nothing: what it declares, the other cells know anyway");
    if (!ts.isImportDeclaration(statement)) continue;
    const source = (statement.moduleSpecifier as ts.StringLiteral).text;
    check(statement, source);
    names.push(...namesOf(statement, source, cell.id));
    const [from, to] = [statement.getStart(), statement.getEnd()];
    text = text.slice(0, from) + text.slice(from, to).replace(/[^\n]/g, " ") + text.slice(to);
  }
  const visit = (node: ts.Node): void => {
    if (ts.isCallExpression(node) && node.expression.kind === ts.SyntaxKind.ImportKeyword)
      complain(node, "a cell imports at its top only, not with import(…)");
    ts.forEachChild(node, visit);
  };
  visit(tree);
  return { text, names };
}

function isExport(statement: ts.Statement): boolean {
  if (ts.isExportDeclaration(statement) || ts.isExportAssignment(statement)) return true;
  const modifiers = ts.canHaveModifiers(statement) ? ts.getModifiers(statement) : undefined;
  return modifiers?.some(({ kind }) => kind === ts.SyntaxKind.ExportKeyword) ?? false;
}

function namesOf(statement: ts.ImportDeclaration, source: string, cell: number): ImportedName[] {
  const clause = statement.importClause;
  if (!clause) return [];
  const allTypes = clause.phaseModifier === ts.SyntaxKind.TypeKeyword;
  const found: ImportedName[] = [];
  if (clause.name) found.push({ local: clause.name.text, exported: "default", source, typeOnly: allTypes, cell });
  const bindings = clause.namedBindings;
  if (bindings && ts.isNamespaceImport(bindings))
    found.push({ local: bindings.name.text, exported: "*", source, typeOnly: allTypes, cell });
  if (bindings && ts.isNamedImports(bindings))
    for (const each of bindings.elements)
      found.push({
        local: each.name.text,
        exported: (each.propertyName ?? each.name).text,
        source,
        typeOnly: allTypes || each.isTypeOnly,
        cell,
      });
  return found;
}

/** The imported names of a page by their local name. Throws where one name stands for two things. */
export function importTable(notebook: Notebook): Map<string, ImportedName> {
  const table = new Map<string, ImportedName>();
  for (const cell of notebook.cells.filter(({ kind }) => kind === "ts"))
    for (const name of splitImports(notebook, cell).names) {
      const other = table.get(name.local);
      if (other && (other.source !== name.source || other.exported !== name.exported))
        throw new NotebookProblem(
          notebook.file,
          cell.line,
          `${name.local} is imported from "${name.source}" here and from "${other.source}" in cell ${other.cell}`,
        );
      if (!other || other.typeOnly) table.set(name.local, name);
    }
  return table;
}

/** The import statement for one name. */
export function importStatement({ local, exported, source, typeOnly }: ImportedName): string {
  const from = `from ${JSON.stringify(source)};`;
  const type = typeOnly ? "type " : "";
  if (exported === "*") return `import ${type}* as ${local} ${from}`;
  return `import ${type}{ ${exported === local ? local : `${exported} as ${local}`} } ${from}`;
}
