// Workers. Code starts one with `new Worker(new URL("./x.worker.ts", import.meta.url), { type: "module" })` and nothing else: the
// development server and the site load it as a file of its own. A page in one file has no other file, so there the same words become
// a worker whose text stands in the page.
import type { Plugin } from "vite";

const start =
  /new Worker\(\s*new URL\(\s*("[^"]+"|'[^']+')\s*,\s*import\.meta\.url\s*,?\s*\)\s*(?:,\s*\{[^}]*\}\s*,?\s*)?\)/g;

/** Rewrites the start of a worker to one whose text is part of the module. Gives null where a text starts none. */
export function inlineWorkers(code: string): string | null {
  const imports: string[] = [];
  const changed = code.replace(start, (_, path: string) => {
    const name = `InlineWorker${imports.length}`;
    imports.push(`import ${name} from ${JSON.stringify(`${path.slice(1, -1)}?worker&inline`)};`);
    return `new ${name}()`;
  });
  return imports.length > 0 ? `${imports.join(" ")} ${changed}` : null;
}

/** The same as a plugin, for pages in one file. */
export function workersInside(): Plugin {
  return {
    name: "railfault:workers-inside",
    enforce: "pre",
    transform(code, id) {
      if (!/\.[jt]s$/.test(id) || !code.includes("new Worker(")) return null;
      const changed = inlineWorkers(code);
      return changed === null ? null : { code: changed, map: null };
    },
  };
}
