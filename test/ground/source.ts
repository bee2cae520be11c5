import { readFileSync } from "node:fs";
import { dirname, join, posix } from "node:path";
import ts from "typescript";
import { filesBelow } from "./files.ts";

/** One import or re-export of a file. */
interface Import {
  /** As it is written: `../trace/types.ts`, `node:fs`, `zod`. */
  readonly specifier: string;
  /** For a relative import the imported file, relative to the same folder as `SourceFile.path`; else null. */
  readonly target: string | null;
  /** True where nothing is loaded at run time. */
  readonly typeOnly: boolean;
}

/** A source file as the detectors see it. */
export interface SourceFile {
  /** With forward slashes, relative to the folder that was read. */
  readonly path: string;
  readonly text: string;
  readonly tree: ts.SourceFile;
  readonly imports: readonly Import[];
}

/** Reads the TypeScript files below `folder`, declarations excepted. */
export function readSources(folder: string): SourceFile[] {
  return filesBelow(folder, [".ts"])
    .filter((path) => !path.endsWith(".d.ts"))
    .map((path) => parseSource(path, readFileSync(join(folder, path), "utf8")));
}

/** Parses one text; `path` is where it is taken to stand. */
export function parseSource(path: string, text: string): SourceFile {
  const tree = ts.createSourceFile(path, text, ts.ScriptTarget.Latest, true);
  return { path, text, tree, imports: importsOf(path, tree) };
}

function importsOf(path: string, tree: ts.SourceFile): Import[] {
  const found: Import[] = [];
  const add = (literal: ts.Node | undefined, typeOnly: boolean): void => {
    if (!literal || !ts.isStringLiteralLike(literal)) return;
    const specifier = literal.text;
    const target = specifier.startsWith(".") ? posix.normalize(posix.join(dirname(path), specifier)) : null;
    found.push({ specifier, target, typeOnly });
  };
  const visit = (node: ts.Node): void => {
    if (ts.isImportDeclaration(node)) add(node.moduleSpecifier, bindsTypesOnly(node.importClause));
    else if (ts.isExportDeclaration(node)) add(node.moduleSpecifier, node.isTypeOnly);
    else if (ts.isImportTypeNode(node) && ts.isLiteralTypeNode(node.argument)) add(node.argument.literal, true);
    else if (ts.isCallExpression(node) && loadsModule(node.expression)) add(node.arguments[0], false);
    else if (ts.isImportEqualsDeclaration(node) && ts.isExternalModuleReference(node.moduleReference))
      add(node.moduleReference.expression, node.isTypeOnly);
    ts.forEachChild(node, visit);
  };
  visit(tree);
  return found;
}

function loadsModule(callee: ts.Expression): boolean {
  return callee.kind === ts.SyntaxKind.ImportKeyword || (ts.isIdentifier(callee) && callee.text === "require");
}

// `import { type A } from` still loads the file under verbatimModuleSyntax: only the clause's own mark counts.
function bindsTypesOnly(clause: ts.ImportClause | undefined): boolean {
  return clause?.phaseModifier === ts.SyntaxKind.TypeKeyword;
}
