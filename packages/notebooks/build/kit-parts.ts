// Of the notebook library's runtime a page takes the part that defines cells, and the engine below it. Its standard library, which names
// libraries on another host, its looks and its inspector stay outside; what the taken part imports of them is replaced by ours.

import { realpathSync } from "node:fs";
import { createRequire } from "node:module";
import { join, resolve } from "node:path";
import { baseFolder, packageFolder } from "./paths.ts";

const runtimeFolder = realpathSync(join(packageFolder, "node_modules/@observablehq/notebook-kit/dist/src/runtime"));

/** The entries that the runtime of a page imports. */
const entries: Readonly<Record<string, string>> = {
  "observable:define": join(runtimeFolder, "define.js"),
  "observable:engine": createRequire(join(runtimeFolder, "index.js")).resolve("@observablehq/runtime"),
};

/** Modules of the library by their path below its runtime folder, and ours in their place. */
const replaced: Readonly<Record<string, string>> = {
  "inspect.js": join(baseFolder, "inspect.ts"),
  "stdlib/assets.js": join(baseFolder, "inspect.ts"),
  "stdlib/generators/index.js": join(baseFolder, "live.ts"),
  "stdlib/mutable.js": join(baseFolder, "live.ts"),
};

/** The file for an import that concerns the notebook library, else null. */
export function kitPart(source: string, importer: string | undefined): string | null {
  const entry = entries[source];
  if (entry) return entry;
  if (!importer?.startsWith(runtimeFolder) || !source.startsWith(".")) return null;
  const path = resolve(importer, "..", source)
    .slice(runtimeFolder.length + 1)
    .replaceAll("\\", "/");
  return replaced[path] ?? null;
}
