// The development server answers the person at this machine only. A page of another site, open in the same browser, can send requests
// here too; these are refused.
import type { IncomingMessage } from "node:http";
import type { Plugin } from "vite";

/** Why a request is refused, or null. Opening a page by a link from elsewhere is allowed, loading its parts is not. */
export function refusal({
  headers,
  url = "/",
}: Pick<IncomingMessage, "headers"> & { readonly url?: string | undefined }): string | null {
  // What comes after this takes every request for a place, and ends where it is none.
  if (!URL.canParse(url, "http://localhost")) return "the request names no place";
  const { host = "", origin } = headers;
  if (!/^(?:127\.0\.0\.1|localhost)(?::\d+)?$/.test(host)) return `host ${host} is not this machine`;
  if (origin !== undefined && origin !== `http://${host}`) return `origin ${origin} is another site`;
  const site = headers["sec-fetch-site"];
  if (site === "cross-site" && headers["sec-fetch-mode"] !== "navigate") return "the request comes from another site";
  return null;
}

/** Refuses such requests before anything else looks at them. */
export function guard(): Plugin {
  return {
    name: "railfault:guard",
    configureServer(server) {
      server.middlewares.use((request, response, next) => {
        const reason = refusal(request);
        if (reason === null) return next();
        response.writeHead(403, { "content-type": "text/plain; charset=utf-8" });
        response.end(`Refused: ${reason}.\n`);
      });
    },
  };
}
