// Workers of the site. What a worker and the pages both need stands in the site once: a worker is one more entry of the same build, where it
// would else be a build of its own with a copy of everything.
import { dirname, join } from "node:path";
import type { Plugin } from "vite";

const start = /new URL\(\s*(["'])(\.\/[^"']+\.worker\.ts)\1\s*,\s*import\.meta\.url\s*\)/g;

/** Lets each `new Worker(new URL("./x.worker.ts", import.meta.url), { type: "module" })` start a file that shares its parts with the pages. */
export function sharedWorkers(): Plugin {
  return {
    name: "railfault:shared-workers",
    apply: "build",
    enforce: "pre",
    transform(code, id) {
      if (!code.includes(".worker.ts")) return null;
      const changed = code.replaceAll(start, (_, _quote: string, path: string) => {
        const file = this.emitFile({ type: "chunk", id: join(dirname(id.split("?")[0]), path) });
        return `import.meta.ROLLUP_FILE_URL_${file}`;
      });
      return changed === code ? null : { code: changed, map: null };
    },
  };
}
