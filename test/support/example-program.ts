import ts from "typescript";
import { common, special } from "./example-world.ts";
import { examplesOf, type PublicExport } from "./public-exports.ts";

/** What examples may use without saying where it is from. */
const MODULES: Readonly<Record<string, readonly string[]>> = {
  "node:fs": ["readFileSync", "writeFileSync"],
  "node:fs/promises": ["writeFile"],
  jsdom: ["JSDOM"],
};

/** What the machine brings. */
const GLOBALS = ["Blob", "console", "Float64Array", "JSON", "process"];

/** One example as a function of a module. */
interface Example {
  readonly name: string;
  readonly code: string;
  /** What a remark behind the last line says that it gives; null where that is no plain value. */
  readonly expected: string | null;
}

/** All examples of the library's comments. */
export function examples(exports: readonly PublicExport[]): Example[] {
  return exports.flatMap((found) =>
    examplesOf(found).map((code, i, all) => ({
      name: all.length > 1 ? `${found.name} ${i + 1}` : found.name,
      code,
      expected: expectedOf(code),
    })),
  );
}

/**
 * A module that holds every example as a function, by its name; each gives what its last line gives. Whatever an example does not make itself
 * comes from the world.
 */
export function exampleProgram(exports: readonly PublicExport[]): string {
  const entryOf = new Map(exports.map(({ name, entry }) => [name, entry]));
  const used = new Map<string, Set<string>>();
  const use = (module: string, name: string): void => {
    used.set(module, (used.get(module) ?? new Set()).add(name));
  };
  const functions = exports.flatMap((found) => {
    const own: Readonly<Record<string, unknown>> =
      (special as Record<string, Record<string, unknown>>)[found.name] ?? {};
    return examplesOf(found).map((code, i, all) => {
      const given = freeNames(code).flatMap((name) => {
        const module = entryOf.get(name) ?? Object.keys(MODULES).find((each) => MODULES[each]?.includes(name));
        if (name in own) return [`  const ${name} = await special.${found.name}.${name}();`];
        if (module !== undefined) use(module, name);
        else if (name in common) return [`  const ${name} = await common.${name}();`];
        else if (!GLOBALS.includes(name)) throw new Error(`the example of ${found.name} does not say what ${name} is`);
        return [];
      });
      const name = JSON.stringify(all.length > 1 ? `${found.name} ${i + 1}` : found.name);
      return [`  ${name}: async () => {`, ...given, returning(code), "  },"].join("\n");
    });
  });
  const imports = [...used].map(([module, names]) => `import { ${[...names].sort().join(", ")} } from "${module}";`);
  const world = 'import { common, special } from "./example-world.ts";';
  return [...imports, world, "", "export const examples = {", ...functions, "};", ""].join("\n");
}

const parse = (code: string): ts.SourceFile =>
  ts.createSourceFile("example.ts", code, ts.ScriptTarget.ESNext, true, ts.ScriptKind.TS);

/** Names that a piece of code uses and does not make itself, in the order of their use. */
function freeNames(code: string): string[] {
  const made = new Set<string>();
  const wanted = new Set<string>();
  const visit = (node: ts.Node): void => {
    if (ts.isIdentifier(node)) {
      if (isMade(node)) made.add(node.text);
      else if (isUse(node)) wanted.add(node.text);
    }
    node.forEachChild(visit);
  };
  visit(parse(code));
  return [...wanted].filter((name) => !made.has(name) && name !== "undefined");
}

function isMade(node: ts.Identifier): boolean {
  const { parent } = node;
  return (
    (ts.isVariableDeclaration(parent) || ts.isParameter(parent) || ts.isBindingElement(parent)) && parent.name === node
  );
}

function isUse(node: ts.Identifier): boolean {
  const { parent } = node;
  if (ts.isPropertyAccessExpression(parent)) return parent.expression === node;
  if (ts.isPropertyAssignment(parent)) return parent.initializer === node;
  if (ts.isTypeReferenceNode(parent)) return false;
  return !(ts.isBindingElement(parent) && parent.propertyName === node);
}

/** The code with its last line given back, where that is an expression. */
function returning(code: string): string {
  const tree = parse(code);
  const last = tree.statements.at(-1);
  if (last === undefined || !ts.isExpressionStatement(last)) return code;
  return `${code.slice(0, last.getStart())}return ${code.slice(last.getStart())}`;
}

function expectedOf(code: string): string | null {
  const [, remark] = /\/\/ (.+)$/.exec(code) ?? [];
  if (remark === undefined) return null;
  // A quoted text may be followed by words about it.
  const told = /^(?:"(?:[^"\\…]|\\.)*"|'[^']*'|-?[\d.]+(?:e-?\d+)?|\[[^…]*\]|\{[^…]*\})(?=$|,)/.exec(remark)?.[0];
  return told ?? null;
}
