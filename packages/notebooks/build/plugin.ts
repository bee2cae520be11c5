// Notebook files as pages: each HTML file below `pages` becomes our frame with its cells' containers and one module of its cells.
import { readFileSync } from "node:fs";
import { basename, dirname, join, resolve } from "node:path";
import type { Plugin } from "vite";
import { type BaseModules, builtModule, hotModule } from "./cells-module.ts";
import { framePage, templateFile } from "./frame.ts";
import { kitPart } from "./kit-parts.ts";
import { type Notebook, readNotebook, readNotebooks } from "./notebook.ts";
import { baseFolder, lookFile } from "./paths.ts";
import { developmentPolicy, sitePolicy } from "./policy.ts";
import { compileCells } from "./transpile.ts";

const ending = ".cells.js";
const base: BaseModules = {
  page: join(baseFolder, "page.ts"),
  frame: join(baseFolder, "frame.ts"),
  keepValues: join(baseFolder, "keep-values.ts"),
  keepScroll: join(baseFolder, "keep-scroll.ts"),
};

/** The plugin for the notebook files of the folder `pages`, which is also Vite's root. */
export function notebooks(pages: string): Plugin {
  let serving = false;
  const frames = new Map<string, string>();
  const pageFile = (moduleId: string): string => join(pages, basename(moduleId).replace(ending, ".html"));
  const read = (file: string): Notebook => readNotebook(file, readFileSync(file, "utf8"));
  return {
    name: "railfault:notebooks",
    enforce: "pre",
    configResolved(config) {
      serving = config.command === "serve";
    },
    resolveId(source, importer) {
      // A path that would stand beside the notebook file, so that its imports mean what they mean in the file.
      if (source.startsWith("/") && source.endsWith(ending)) return join(pages, basename(source));
      return kitPart(source, importer);
    },
    load(id) {
      if (!id.endsWith(ending)) return null;
      const file = pageFile(id);
      this.addWatchFile(file);
      return serving ? hotModule(read(file), base) : builtModule(read(file), base);
    },
    transformIndexHtml: {
      order: "pre",
      handler(source, { filename }) {
        const notebook = readNotebook(filename, source);
        const cells = compileCells(notebook, { hot: false });
        frames.set(filename, frameKey(notebook));
        return framePage({
          notebook,
          notebooks: readNotebooks(pages),
          prose: new Map(cells.map(({ id, html }) => [id, html ?? ""])),
          policy: serving ? developmentPolicy : sitePolicy,
          styles: [join(baseFolder, "base.css"), lookFile].map((file) => (serving ? `/@fs${file}` : file)),
          script: `/${notebook.name}${ending}`,
          packed: !serving,
        });
      },
    },
    hotUpdate({ file, modules }) {
      if (this.environment.name !== "client") return undefined;
      const reload = (): [] => {
        this.environment.hot.send({ type: "full-reload" });
        return [];
      };
      if (dirname(file) === resolve(pages) && file.endsWith(".html")) {
        const module = this.environment.moduleGraph.getModuleById(file.replace(/\.html$/, ending));
        const known = frames.get(file);
        // Without a module Vite loads the page anew by itself.
        return module && known === safeFrameKey(file) ? [module] : [];
      }
      if (file.endsWith(".css")) return undefined;
      return modules.length > 0 || file === templateFile ? reload() : undefined;
    },
  };

  // What a page shows of a notebook besides the contents of its cells; a change of these loads the page anew.
  function frameKey({ title, heading, short, description, order, cells }: Notebook): string {
    const places = cells.map(({ id, kind, className, height }) => [id, kind, className, height]);
    return JSON.stringify([title, heading, short, description, order, places]);
  }

  // A file that is being written may be wrong for a moment: then its module reports that, in the page as it stands.
  function safeFrameKey(file: string): string | undefined {
    try {
      return frameKey(read(file));
    } catch {
      return frames.get(file);
    }
  }
}
