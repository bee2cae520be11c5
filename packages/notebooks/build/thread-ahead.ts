// In the site, a page that will need a thread starts it with a small script of its own, before the module that holds all the rest.
import { join } from "node:path";
import type { Plugin, Rolldown } from "vite";
import { packageFolder } from "./paths.ts";

const threadFile = join(packageFolder, "src/run/thread.ts");
const aheadFile = join(packageFolder, "src/run/ahead.ts");

/** Marks the script in a page: in a single-file page the thread's text is a part of the page, and nothing is won. */
export const aheadMark = "data-ahead";

/** Adds the script to each page whose module can start a thread. */
export function threadAhead(): Plugin {
  let emitted = false;
  return {
    name: "railfault:thread-ahead",
    apply: "build",
    buildStart() {
      emitted = false;
    },
    moduleParsed({ id }) {
      if (id !== threadFile || emitted) return;
      emitted = true;
      this.emitFile({ type: "chunk", id: aheadFile, name: "ahead" });
    },
    transformIndexHtml: {
      order: "post",
      handler(html, { bundle = {}, chunk }) {
        const chunks = Object.values(bundle).filter((each): each is Rolldown.OutputChunk => each.type === "chunk");
        const ahead = chunks.find(({ facadeModuleId }) => facadeModuleId === aheadFile);
        if (ahead === undefined || chunk === undefined || !reaches(chunk, chunks)) return html;
        const script = `<script type="module" async src="./${ahead.fileName}" ${aheadMark}></script>`;
        // Behind the policy, before everything that is to be read.
        return html.replace('<link rel="icon"', `${script}\n    $&`);
      },
    },
  };
}

/** Whether a chunk or one that it imports at once holds the module that starts threads. */
function reaches(first: Rolldown.OutputChunk, chunks: readonly Rolldown.OutputChunk[]): boolean {
  const seen = new Set<string>();
  const visit = (chunk: Rolldown.OutputChunk): boolean => {
    if (seen.has(chunk.fileName)) return false;
    seen.add(chunk.fileName);
    const next = chunks.filter(({ fileName }) => chunk.imports.includes(fileName));
    return chunk.moduleIds.includes(threadFile) || next.some(visit);
  };
  return visit(first);
}
