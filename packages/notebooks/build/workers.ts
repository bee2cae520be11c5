// Workers. Code starts one with `new Worker(new URL("./x.worker.ts", import.meta.url), { type: "module" })` and nothing else: the
// development server and the site load it as a file of its own. A page in one file has no other file, so there the worker's text stands
// in the page; as a plain script, because a page that comes from a disk cannot load a module that way.
import ts from "typescript";

/**
 * Rewrites each start of a worker in built code. `textOf` gives the text of a file of the site by its name, or null where there is none.
 * Gives the code unchanged where it starts no worker.
 */
export function inlineWorkers(code: string, textOf: (name: string) => string | null): string {
  if (!code.includes("Worker(")) return code;
  const texts: string[] = [];
  let changed = code;
  // From the end, so that places before it stay where they are.
  for (const start of starts(code).reverse()) {
    const written = code.slice(start.pos, start.end);
    const [, name = ""] = /["'`]([^"'`]+\.js)["'`]/.exec(written) ?? [];
    const text = textOf(name);
    if (text === null) throw new Error(`a worker is started from something that is no file of the site: ${written}`);
    texts.push(text);
    const blob = `new Blob([inlineWorker${texts.length - 1}],{type:"text/javascript"})`;
    changed = `${changed.slice(0, start.pos)}new Worker(URL.createObjectURL(${blob}))${changed.slice(start.end)}`;
  }
  return changed + texts.map((text, index) => `\nvar inlineWorker${index}=${JSON.stringify(text)};`).join("");
}

function starts(code: string): ts.TextRange[] {
  const tree = ts.createSourceFile("chunk.js", code, ts.ScriptTarget.Latest, false, ts.ScriptKind.JS);
  const found: ts.TextRange[] = [];
  const visit = (node: ts.Node): void => {
    const begins = ts.isNewExpression(node) && ts.isIdentifier(node.expression) && node.expression.text === "Worker";
    if (begins) found.push({ pos: node.getStart(tree), end: node.end });
    ts.forEachChild(node, visit);
  };
  visit(tree);
  return found;
}
