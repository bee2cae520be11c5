import ts from "typescript";

/** What the text of a cell is. */
export interface Syntax {
  /** One expression, whose value the cell shows; read so also where it begins like a block. */
  readonly expression: boolean;
  /** The first mistake; its line is counted from 0 within the text. */
  readonly problem: { readonly line: number; readonly message: string } | null;
}

/** Reads the text of a cell as an expression, else as statements. */
export function syntaxOf(text: string): Syntax {
  const whole = parse(`(${text}\n)`);
  const [only, ...more] = whole.file.statements;
  const expression = !whole.problem && more.length === 0 && only !== undefined && ts.isExpressionStatement(only);
  if (expression) return { expression, problem: null };
  const { file, problem } = parse(text);
  if (!problem) return { expression, problem: null };
  const { line } = file.getLineAndCharacterOfPosition(problem.start);
  return { expression, problem: { line, message: ts.flattenDiagnosticMessageText(problem.messageText, " ") } };
}

function parse(text: string) {
  const file = ts.createSourceFile("cell.ts", text, ts.ScriptTarget.Latest);
  // The parser keeps its complaints here, out of sight of its types.
  const [problem] = (file as unknown as { parseDiagnostics: readonly ts.DiagnosticWithLocation[] }).parseDiagnostics;
  return { file, problem };
}
