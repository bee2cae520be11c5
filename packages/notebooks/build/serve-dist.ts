// A plain web server for the built site, as any other would serve it; for tests and for a look.
import { createReadStream, existsSync, statSync } from "node:fs";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { extname, join, normalize, sep } from "node:path";
import { notFoundPage } from "./not-found.ts";
import { siteFolder } from "./paths.ts";

const types: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".svg": "image/svg+xml",
  ".json": "application/json; charset=utf-8",
  ".yaml": "text/yaml; charset=utf-8",
};

/** How the server is set up. */
export interface ServeOptions {
  /** 0 or nothing takes a free one. */
  readonly port?: number;
  /** The built site. */
  readonly folder?: string;
  /** The path below which it stands, such as `/club/railfault/`. */
  readonly base?: string;
  /** How long a browser may keep what it fetched, s; default: as it thinks fit. */
  readonly maxAge?: number;
}

/** Serves a built site to this machine; gives its address, which ends in a slash, and the way to end it. */
export async function serveDist(options: ServeOptions = {}): Promise<{ url: string; close: () => Promise<void> }> {
  const { port = 0, folder = siteFolder, base = "/", maxAge } = options;
  const server = createServer((request, response) => {
    const file = fileFor(folder, base, request.url ?? "/");
    const known = request.method === "GET" || request.method === "HEAD";
    const missing = join(folder, notFoundPage);
    if (known && file === null && existsSync(missing)) {
      response.writeHead(404, { "content-type": types[".html"] });
      if (request.method === "HEAD") response.end();
      else createReadStream(missing).pipe(response);
      return;
    }
    if (!known || file === null) {
      response.writeHead(known ? 404 : 405, { "content-type": "text/plain" });
      response.end(known ? "Not found.\n" : "Only GET and HEAD.\n");
      return;
    }
    response.writeHead(200, {
      "content-type": types[extname(file)] ?? "application/octet-stream",
      "content-length": statSync(file).size,
      "x-content-type-options": "nosniff",
      ...(maxAge === undefined ? {} : { "cache-control": `max-age=${maxAge}` }),
    });
    if (request.method === "HEAD") response.end();
    else createReadStream(file).pipe(response);
  });
  await new Promise<void>((resolve, reject) => {
    server.once("error", reject);
    server.listen(port, "127.0.0.1", resolve);
  });
  const close = () =>
    new Promise<void>((resolve) => {
      server.close(() => resolve());
      server.closeAllConnections();
    });
  return { url: `http://127.0.0.1:${(server.address() as AddressInfo).port}${base}`, close };
}

function fileFor(folder: string, base: string, url: string): string | null {
  const pathname = pathOf(url);
  if (pathname === null || !pathname.startsWith(base)) return null;
  const rest = decoded(pathname.slice(base.length));
  if (rest === null) return null;
  const file = join(folder, normalize(`/${rest === "" || rest.endsWith("/") ? `${rest}index.html` : rest}`));
  if (!file.startsWith(folder + sep) || !existsSync(file) || !statSync(file).isFile()) return null;
  return file;
}

/** Null where a request names no place at all, such as `//`. */
function pathOf(url: string): string | null {
  return URL.canParse(url, "http://localhost") ? new URL(url, "http://localhost").pathname : null;
}

function decoded(text: string): string | null {
  try {
    return decodeURIComponent(text);
  } catch {
    return null;
  }
}
