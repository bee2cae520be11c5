import { existsSync } from "node:fs";
import { join } from "node:path";
import ts from "typescript";
import { filesBelow, root } from "./source.ts";

// "Cannot find name …" in its variants; other errors are the type check's business, which shows them better.
const unknownName = new Set([2304, 2503, 2552, 2580, 2584, 2591]);

/**
 * The names that `entry` and what it imports use and that neither the language nor the code itself declares, each as
 * `file: message`: what belongs to a document or to Node. Empty where the entry does not exist.
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
  return ts
    .getPreEmitDiagnostics(program)
    .filter(({ code, file }) => unknownName.has(code) && file?.fileName.startsWith(folder))
    .map(({ file, messageText }) => {
      const message = ts.flattenDiagnosticMessageText(messageText, " ");
      return `${file?.fileName.slice(folder.length + 1)}: ${message}`;
    });
}

/** The project's own options without the libraries of the browser and of Node. */
function neutralOptions(): ts.CompilerOptions {
  const { config } = ts.readConfigFile(join(root, "tsconfig.json"), ts.sys.readFile) as {
    config: { compilerOptions: object };
  };
  return ts.convertCompilerOptionsFromJson({ ...config.compilerOptions, lib: ["ES2023"], types: [] }, root).options;
}
