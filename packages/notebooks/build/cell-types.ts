// The type check of all cells, under the project's own strict options.
import { join, relative } from "node:path";
import ts from "typescript";
import { type CellText, cellTexts } from "./cell-texts.ts";
import type { Notebook } from "./notebook.ts";
import { baseFolder, checkout } from "./paths.ts";

/** One complaint about a cell. */
export interface CellComplaint {
  /** The notebook file, relative to the checkout. */
  readonly file: string;
  /** Line and column in it, counted from 1. */
  readonly line: number;
  readonly column: number;
  readonly message: string;
}

/** What the type checker says about the cells of these notebooks; nothing where all is well. */
export function checkCells(notebooks: readonly Notebook[]): CellComplaint[] {
  const cells = new Map(notebooks.flatMap(cellTexts).map((each) => [each.path.replaceAll("\\", "/"), each]));
  const options = projectOptions();
  const host = ts.createCompilerHost(options);
  const { fileExists, readFile } = host;
  host.fileExists = (path) => cells.has(path) || fileExists(path);
  host.readFile = (path) => cells.get(path)?.text ?? readFile(path);
  const program = ts.createProgram([...cells.keys(), join(baseFolder, "ambient.d.ts")], options, host);
  return [...cells].flatMap(([path, cell]) => {
    const file = program.getSourceFile(path)!;
    const found = [...program.getSyntacticDiagnostics(file), ...program.getSemanticDiagnostics(file)];
    return found.filter(({ start = 0 }) => start >= cell.preamble).map((each) => complaint(cell, file, each));
  });
}

function complaint(cell: CellText, file: ts.SourceFile, diagnostic: ts.Diagnostic): CellComplaint {
  const { line, character } = file.getLineAndCharacterOfPosition(diagnostic.start ?? 0);
  return {
    file: relative(checkout, cell.notebook.file).replaceAll("\\", "/"),
    line: line + 1,
    // On the first line the declarations have pushed the cell's text aside.
    column: character + 1 - (line === 0 ? cell.preamble : 0),
    message: `TS${diagnostic.code}: ${ts.flattenDiagnosticMessageText(diagnostic.messageText, "\n")}`,
  };
}

function projectOptions(): ts.CompilerOptions {
  const { config } = ts.readConfigFile(join(checkout, "tsconfig.json"), ts.sys.readFile) as {
    config: { compilerOptions: object };
  };
  return ts.convertCompilerOptionsFromJson(config.compilerOptions, checkout).options;
}
