import ts from "typescript";
import type { SourceFile } from "./source.ts";

const electrical = /volt|ampere|ohm|fuse|supply|battery|clamp|lamp|capacit|induct|resist/i;
// A word of its own, in prose or as a part of a name: `scrCurrent`, `isScr`, but not `script` or `description`.
const thyristor = /(?<![A-Za-z])(?:scr|SCR|Scr)s?(?![a-z])|(?<=[a-z])Scrs?(?![a-z])/;

/** Lines that hold an electrical word, as `path:line: word`. */
export function electricalWords({ path, text }: Pick<SourceFile, "path" | "text">): string[] {
  return text.split("\n").flatMap((line, index) => {
    const word = electrical.exec(line)?.[0] ?? thyristor.exec(line)?.[0];
    return word === undefined ? [] : [`${path}:${index + 1}: ${word}`];
  });
}

/** The number of lines of a text; a last newline begins no line. */
export function lineCount(text: string): number {
  return text === "" ? 0 : text.replace(/\n$/, "").split("\n").length;
}

const mutators = new Set([
  "set",
  "add",
  "delete",
  "clear",
  "push",
  "pop",
  "shift",
  "unshift",
  "splice",
  "sort",
  "fill",
]);

/** Module-level `let` and `var`, and module-level constants whose content a function changes. */
export function moduleState({ path, tree }: SourceFile): string[] {
  const constants = new Set<string>();
  const found: string[] = [];
  for (const statement of tree.statements) {
    if (!ts.isVariableStatement(statement) || isAmbient(statement)) continue;
    const names = statement.declarationList.declarations.map(({ name }) => name.getText(tree));
    if (statement.declarationList.flags & ts.NodeFlags.Const) for (const name of names) constants.add(name);
    else found.push(`${path}: ${names.join(", ")} is not constant`);
  }
  for (const name of declaredInside(tree)) constants.delete(name);
  for (const name of changedInside(tree)) if (constants.has(name)) found.push(`${path}: a function changes ${name}`);
  return found;
}

function isAmbient(statement: ts.VariableStatement): boolean {
  return statement.modifiers?.some(({ kind }) => kind === ts.SyntaxKind.DeclareKeyword) ?? false;
}

function visitFunctions(tree: ts.SourceFile, inside: (node: ts.Node) => void): void {
  const visit = (node: ts.Node, depth: number): void => {
    if (depth > 0) inside(node);
    ts.forEachChild(node, (child) => visit(child, depth + (ts.isFunctionLike(node) ? 1 : 0)));
  };
  visit(tree, 0);
}

/** Names that a function declares for itself: a change of these is no change of the module. */
function declaredInside(tree: ts.SourceFile): Set<string> {
  const names = new Set<string>();
  visitFunctions(tree, (node) => {
    if ((ts.isVariableDeclaration(node) || ts.isParameter(node)) && ts.isIdentifier(node.name))
      names.add(node.name.text);
    if (ts.isBindingElement(node) && ts.isIdentifier(node.name)) names.add(node.name.text);
  });
  return names;
}

function changedInside(tree: ts.SourceFile): Set<string> {
  const names = new Set<string>();
  visitFunctions(tree, (node) => {
    const changed = changedExpression(node);
    if (changed === null) return;
    let base = changed;
    while (ts.isPropertyAccessExpression(base) || ts.isElementAccessExpression(base) || ts.isNonNullExpression(base))
      base = base.expression;
    if (ts.isIdentifier(base)) names.add(base.text);
  });
  return names;
}

/** What a node changes in place: the target of an assignment, of `++`, of `delete` or of a mutating call. */
function changedExpression(node: ts.Node): ts.Expression | null {
  if (ts.isBinaryExpression(node) && isAssignment(node.operatorToken.kind)) return node.left;
  if (ts.isPostfixUnaryExpression(node)) return node.operand;
  if (ts.isPrefixUnaryExpression(node) && isStep(node.operator)) return node.operand;
  if (ts.isDeleteExpression(node)) return node.expression;
  if (
    ts.isCallExpression(node) &&
    ts.isPropertyAccessExpression(node.expression) &&
    mutators.has(node.expression.name.text)
  )
    return node.expression.expression;
  return null;
}

function isAssignment(kind: ts.SyntaxKind): boolean {
  return kind >= ts.SyntaxKind.FirstAssignment && kind <= ts.SyntaxKind.LastAssignment;
}

function isStep(operator: ts.PrefixUnaryOperator): boolean {
  return operator === ts.SyntaxKind.PlusPlusToken || operator === ts.SyntaxKind.MinusMinusToken;
}
