// The type check of all cells, under the project's own strict options: alone, or together with the project's files.
import { join, relative } from "node:path";
import ts from "typescript";
import { type CellText, cellTexts } from "./cell-texts.ts";
import type { Notebook } from "./notebook.ts";
import { baseFolder, checkout } from "./paths.ts";

/** One complaint about a cell or a file. */
export interface TypeComplaint {
  /** The file, relative to the checkout; of a cell its notebook's, and of what is about no file the project's options. */
  readonly file: string;
  /** Line and column in it, counted from 1. */
  readonly line: number;
  readonly column: number;
  readonly message: string;
}

/** What the type checker says about the cells of these notebooks; nothing where all is well. */
export function checkCells(notebooks: readonly Notebook[]): TypeComplaint[] {
  const cells = cellsOf(notebooks);
  const program = programOf(cells, project().options, [join(baseFolder, "ambient.d.ts")]);
  return [...cells].flatMap(([path, cell]) => {
    const file = program.getSourceFile(path)!;
    const found = [...program.getSyntacticDiagnostics(file), ...program.getSemanticDiagnostics(file)];
    return inCells(found, cells).map((each) => complaint(each, cell));
  });
}

/** What it says about them and about every file of the project. In one go: most of the time goes into what they all take from elsewhere. */
export function checkProject(notebooks: readonly Notebook[]): TypeComplaint[] {
  const { options, fileNames, errors } = project();
  const cells = cellsOf(notebooks);
  const found = [...errors, ...ts.getPreEmitDiagnostics(programOf(cells, options, fileNames))];
  return inCells(found, cells).map((each) => complaint(each, cells.get(each.file?.fileName ?? "")));
}

type Cells = ReadonlyMap<string, CellText>;

const cellsOf = (notebooks: readonly Notebook[]): Cells =>
  new Map(notebooks.flatMap(cellTexts).map((each) => [each.path.replaceAll("\\", "/"), each]));

function programOf(cells: Cells, options: ts.CompilerOptions, files: readonly string[]): ts.Program {
  const host = ts.createCompilerHost(options);
  const { fileExists, readFile } = host;
  host.fileExists = (path) => cells.has(path) || fileExists(path);
  host.readFile = (path) => cells.get(path)?.text ?? readFile(path);
  return ts.createProgram([...cells.keys(), ...files], options, host);
}

/** Without what is about the declarations before a cell's own text: it need not use them. */
const inCells = (found: readonly ts.Diagnostic[], cells: Cells): ts.Diagnostic[] =>
  found.filter(({ file, start = 0 }) => start >= (cells.get(file?.fileName ?? "")?.preamble ?? 0));

function complaint({ file, start = 0, code, messageText }: ts.Diagnostic, cell: CellText | undefined): TypeComplaint {
  const { line, character } = file?.getLineAndCharacterOfPosition(start) ?? { line: 0, character: 0 };
  const place = cell?.notebook.file ?? file?.fileName ?? join(checkout, "tsconfig.json");
  return {
    file: relative(checkout, place).replaceAll("\\", "/"),
    line: line + 1,
    // On the first line the declarations have pushed the cell's text aside.
    column: character + 1 - (line === 0 ? (cell?.preamble ?? 0) : 0),
    message: `TS${code}: ${ts.flattenDiagnosticMessageText(messageText, "\n")}`,
  };
}

function project(): ts.ParsedCommandLine {
  const { config, error } = ts.readConfigFile(join(checkout, "tsconfig.json"), ts.sys.readFile);
  const parsed = ts.parseJsonConfigFileContent(config ?? {}, ts.sys, checkout);
  return error ? { ...parsed, errors: [error, ...parsed.errors] } : parsed;
}
