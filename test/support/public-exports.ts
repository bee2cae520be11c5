import { readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import ts from "typescript";
import { root } from "../ground/files.ts";

/** Something that one of the library's entries exports. */
export interface PublicExport {
  /** As the entry calls it. */
  readonly name: string;
  /** The package's path that exports it first: `@railfault/sim`. */
  readonly entry: string;
  readonly file: string;
  readonly declaration: ts.Declaration | ts.Statement;
}

/** The library's entries, by the paths under which they are imported. */
export const entries: Readonly<Record<string, string>> = {
  "@railfault/sim": "packages/sim/src/index.ts",
  "@railfault/sim/figures": "packages/sim/src/figures.ts",
  "@railfault/sim/node": "packages/sim/src/node.ts",
};

/** Everything that the entries export, each once. Read off the sources alone: nothing is type-checked, which takes seconds. */
export function publicExports(): PublicExport[] {
  const reader = new Reader();
  const seen = new Set<ts.Node>();
  return Object.entries(entries).flatMap(([entry, path]) =>
    [...reader.exportsOf(join(root, path))].flatMap(([name, found]) => {
      if (seen.has(found.declaration)) return [];
      seen.add(found.declaration);
      return [{ name, entry, ...found }];
    }),
  );
}

type Found = Pick<PublicExport, "file" | "declaration">;

class Reader {
  private readonly known = new Map<string, Map<string, Found>>();

  /** Names that a file exports, with where each is declared. */
  exportsOf(file: string): Map<string, Found> {
    const known = this.known.get(file);
    if (known !== undefined) return known;
    const names = new Map<string, Found>();
    this.known.set(file, names);
    const tree = ts.createSourceFile(file, readFileSync(file, "utf8"), ts.ScriptTarget.ESNext, true);
    const starred: Map<string, Found>[] = [];
    for (const statement of tree.statements) {
      if (ts.isExportDeclaration(statement)) {
        const other = this.exportsOf(join(dirname(file), (statement.moduleSpecifier as ts.StringLiteral).text));
        if (statement.exportClause === undefined) starred.push(other);
        else if (ts.isNamedExports(statement.exportClause))
          for (const { name, propertyName } of statement.exportClause.elements) {
            const found = other.get((propertyName ?? name).text);
            if (found === undefined) throw new Error(`${file}: ${name.text} is not exported there`);
            names.set(name.text, found);
          }
      } else for (const [name, declaration] of declared(statement)) names.set(name, { file, declaration });
    }
    // What is exported by name goes before what a star brings.
    for (const others of starred) for (const [name, found] of others) if (!names.has(name)) names.set(name, found);
    return names;
  }
}

function declared(statement: ts.Statement): [string, ts.Statement][] {
  const modifiers = ts.canHaveModifiers(statement) ? (ts.getModifiers(statement) ?? []) : [];
  if (!modifiers.some(({ kind }) => kind === ts.SyntaxKind.ExportKeyword)) return [];
  if (ts.isVariableStatement(statement))
    return statement.declarationList.declarations.map(({ name }) => [name.getText(), statement]);
  const { name } = statement as ts.Statement & { name?: ts.Identifier };
  return name === undefined ? [] : [[name.text, statement]];
}

/** What of an export has no comment: itself, or a method or accessor of it, by its full name. */
export function undocumented({ name, declaration }: Pick<PublicExport, "name" | "declaration">): string[] {
  const bare = hasComment(declaration) ? [] : [name];
  if (!ts.isClassDeclaration(declaration) && !ts.isInterfaceDeclaration(declaration)) return bare;
  const members = (declaration.members as ts.NodeArray<ts.ClassElement | ts.TypeElement>).filter(
    (member) =>
      (ts.isMethodDeclaration(member) || ts.isMethodSignature(member) || ts.isGetAccessor(member)) &&
      !isHidden(member) &&
      !hasComment(member),
  );
  return [...bare, ...members.map((member) => `${name}.${member.name?.getText()}`)];
}

function isHidden(member: ts.ClassElement | ts.TypeElement): boolean {
  const modifiers = ts.canHaveModifiers(member) ? (ts.getModifiers(member) ?? []) : [];
  const hidden = [ts.SyntaxKind.PrivateKeyword, ts.SyntaxKind.ProtectedKeyword];
  return member.name?.kind === ts.SyntaxKind.PrivateIdentifier || modifiers.some(({ kind }) => hidden.includes(kind));
}

function hasComment(node: ts.Node): boolean {
  // What a comment says in a tag (`@returns`) counts as well.
  return ts
    .getJSDocCommentsAndTags(node)
    .some((part) => ts.isJSDoc(part) && (ts.getTextOfJSDocComment(part.comment) || (part.tags?.length ?? 0) > 0));
}

/** The code of each `@example` of an export and of its methods. */
export function examplesOf({ declaration }: Pick<PublicExport, "declaration">): string[] {
  const nodes = [declaration, ...(ts.isClassDeclaration(declaration) ? declaration.members : [])];
  return nodes
    .flatMap((node) => ts.getJSDocTags(node))
    .filter(({ tagName }) => tagName.text === "example")
    .map(({ comment }) => (ts.getTextOfJSDocComment(comment) ?? "").trim());
}
