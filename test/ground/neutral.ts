import { existsSync } from "node:fs";
import { join } from "node:path";
import ts from "typescript";
import { filesBelow, root } from "./files.ts";

/** What the checker looks names up with; the library keeps it to itself, but it has no other way that does not check all types first. */
interface Lookup {
  resolveName(name: string, from: ts.Node, meaning: ts.SymbolFlags, excludeGlobals: boolean): ts.Symbol | undefined;
}

/** What a name stands for where it is used, or null where it is no use of a name of its own (a property, a declaration, a label). */
function meaningOf(node: ts.Identifier): ts.SymbolFlags | null {
  const { parent } = node;
  if (ts.isQualifiedName(parent)) {
    if (parent.right === node) return null;
    let outer: ts.Node = parent;
    while (ts.isQualifiedName(outer.parent)) outer = outer.parent;
    return ts.isTypeQueryNode(outer.parent) ? ts.SymbolFlags.Value : ts.SymbolFlags.Namespace;
  }
  if (ts.isTypeReferenceNode(parent))
    return ts.isConstTypeReference(parent) || parent.typeName !== node ? null : ts.SymbolFlags.Type;
  if (ts.isTypeQueryNode(parent)) return ts.SymbolFlags.Value;
  if (ts.isExpressionWithTypeArguments(parent)) return ts.SymbolFlags.Value | ts.SymbolFlags.Type;
  if (ts.isTypePredicateNode(parent)) return ts.SymbolFlags.Value;
  if (ts.isShorthandPropertyAssignment(parent)) return ts.SymbolFlags.Value;
  if (ts.isPropertyAccessExpression(parent)) return parent.expression === node ? ts.SymbolFlags.Value : null;
  if (ts.isExportSpecifier(parent)) {
    const own = parent.parent.parent.moduleSpecifier === undefined && (parent.propertyName ?? parent.name) === node;
    return own ? ts.SymbolFlags.Value | ts.SymbolFlags.Type | ts.SymbolFlags.Namespace : null;
  }
  const names = parent as { readonly name?: ts.Node; readonly propertyName?: ts.Node; readonly label?: ts.Node };
  if (names.name === node || names.propertyName === node || names.label === node) return null;
  if (ts.isMetaProperty(parent) || ts.isImportClause(parent) || ts.isNamespaceExport(parent)) return null;
  return ts.SymbolFlags.Value;
}

function unknownIn(file: ts.SourceFile, checker: ts.TypeChecker & Partial<Lookup>): string[] {
  const found: string[] = [];
  const visit = (node: ts.Node): void => {
    const meaning = ts.isIdentifier(node) && node.text !== "" ? meaningOf(node) : null;
    if (meaning !== null) {
      const { text } = node as ts.Identifier;
      if (checker.resolveName!(text, node, meaning, false) === undefined) found.push(`'${text}'`);
    }
    ts.forEachChild(node, visit);
  };
  visit(file);
  return found;
}

/**
 * The names that `entry` and what it imports use and that neither the language nor the code itself declares, each as
 * `file: 'name'`: what belongs to a document or to Node. Empty where the entry does not exist.
 * `text` stands in for the entry's own text.
 */
export function unknownNames(folder: string, entry: string, text?: string): string[] {
  const path = join(folder, entry);
  if (text === undefined && !existsSync(path)) return [];
  const options = neutralOptions();
  const host = ts.createCompilerHost(options);
  if (text !== undefined) {
    const { fileExists, readFile } = host;
    host.fileExists = (name) => name === path || fileExists(name);
    host.readFile = (name) => (name === path ? text : readFile(name));
  }
  const declarations = filesBelow(join(folder, "ambient"), [".d.ts"]).map((name) => join(folder, "ambient", name));
  const program = ts.createProgram([path, ...declarations], options, host);
  const checker = program.getTypeChecker();
  return program
    .getSourceFiles()
    .filter(({ fileName }) => fileName.startsWith(folder))
    .flatMap((file) => unknownIn(file, checker).map((name) => `${file.fileName.slice(folder.length + 1)}: ${name}`));
}

/** The project's own options without the libraries of the browser and of Node. */
function neutralOptions(): ts.CompilerOptions {
  const { config } = ts.readConfigFile(join(root, "tsconfig.json"), ts.sys.readFile) as {
    config: { compilerOptions: object };
  };
  return ts.convertCompilerOptionsFromJson({ ...config.compilerOptions, lib: ["ES2023"], types: [] }, root).options;
}
