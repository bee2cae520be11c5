// What somebody sees who follows an address that leads nowhere: the same page on the development server and on the built site.
import { existsSync, readFileSync } from "node:fs";
import { basename, join } from "node:path";
import type { Plugin } from "vite";
import { packageFolder } from "./paths.ts";

/** The page's name in a built site: what most web servers look for. */
export const notFoundPage = "404.html";

/** The development server's answer to the address of a page that does not exist. */
export function notFound(pages: string): Plugin {
  return {
    name: "railfault:not-found",
    configureServer(server) {
      // Behind what serves files, before what answers with an empty page.
      return () => {
        server.middlewares.use((request, response, next) => {
          const { pathname } = new URL(request.url ?? "/", "http://localhost");
          const name = basename(pathname) || "index.html";
          const isPage = /^[^.]*$|\.html$/.test(name);
          if (!isPage || existsSync(join(pages, name))) {
            next();
            return;
          }
          response.writeHead(404, { "content-type": "text/html; charset=utf-8" });
          response.end(readFileSync(join(packageFolder, "public", notFoundPage)));
        });
      };
    },
  };
}
