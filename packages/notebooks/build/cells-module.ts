// The module of a page: its imports, its cells, and the call that hands them to the runtime. While notebooks are written it accepts its
// own replacement, so a changed cell runs anew and everything else stays as it is.
import { importStatement, importTable } from "./imports.ts";
import type { Notebook } from "./notebook.ts";
import { type CompiledCell, compileCells } from "./transpile.ts";

/** What the module needs of `src/base`, as import specifiers. */
export interface BaseModules {
  readonly page: string;
  readonly frame: string;
  readonly keepValues: string;
  readonly keepScroll: string;
}

/** The text of a page's module for the built site. */
export function builtModule(notebook: Notebook, base: BaseModules): string {
  return [
    `import { openPage } from ${JSON.stringify(base.page)};`,
    `import { startFrame } from ${JSON.stringify(base.frame)};`,
    ...importsOf(notebook),
    "startFrame(document);",
    `openPage(document).show(${list(compileCells(notebook, { hot: false }))});`,
    "",
  ].join("\n");
}

/** The same while notebooks are written. */
export function hotModule(notebook: Notebook, base: BaseModules): string {
  return [
    `import { openPage } from ${JSON.stringify(base.page)};`,
    `import { startFrame } from ${JSON.stringify(base.frame)};`,
    `import { keepValues } from ${JSON.stringify(base.keepValues)};`,
    `import { keepScroll } from ${JSON.stringify(base.keepScroll)};`,
    ...importsOf(notebook),
    "let { page } = import.meta.hot.data;",
    "if (!page) {",
    "  startFrame(document);",
    "  keepScroll(sessionStorage, location.pathname);",
    "  page = openPage(document, keepValues(sessionStorage, location.pathname));",
    "  import.meta.hot.data.page = page;",
    "}",
    `page.show(${list(compileCells(notebook, { hot: true }))});`,
    "import.meta.hot.accept();",
    "",
  ].join("\n");
}

function importsOf(notebook: Notebook): string[] {
  return [...importTable(notebook).values()].filter(({ typeOnly }) => !typeOnly).map(importStatement);
}

function list(cells: readonly CompiledCell[]): string {
  return `[\n${cells.map(({ code }) => code).join(",\n")}\n]`;
}
