// A notebook as one file that opens from a disk, made of the built site: scripts, styles, picture and worker stand in the page, under a
// policy that names exactly these scripts.
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { JSDOM } from "jsdom";
import { build, type Rolldown } from "vite";
import { singleFilePolicy } from "./policy.ts";
import { inlineWorkers } from "./workers.ts";

/** Makes the single-file form of each page of the site in `site` (`index.html` and so on), in its folder `single`. */
export async function buildSingles(site: string, names: readonly string[]): Promise<void> {
  const prepared = new Map<string, string>();
  mkdirSync(join(site, "single"), { recursive: true });
  for (const name of names) writeFileSync(join(site, "single", name), await buildSingle(site, name, prepared));
}

// `prepared` holds the modules that pages share, with their workers inside.
async function buildSingle(site: string, name: string, prepared: Map<string, string>): Promise<string> {
  const { document, html } = pageOf(readFileSync(join(site, name), "utf8"));
  const fileOf = (element: Element, attribute: string): string => join(site, element.getAttribute(attribute) ?? "");
  for (const link of document.querySelectorAll('link[rel="modulepreload"]')) link.remove();
  for (const link of document.querySelectorAll('link[rel="stylesheet"]')) {
    const style = document.createElement("style");
    style.textContent = readFileSync(fileOf(link, "href"), "utf8").trim().replaceAll("</style", "<\\/style");
    link.replaceWith(style);
  }
  for (const icon of document.querySelectorAll<HTMLLinkElement>('link[rel="icon"]'))
    icon.href = `data:image/svg+xml,${encodeURIComponent(readFileSync(fileOf(icon, "href"), "utf8").trim())}`;
  const hashes: string[] = [];
  for (const script of document.querySelectorAll("script")) {
    const file = fileOf(script, "src");
    const code = script.type === "module" ? await bundle(file, site, prepared) : readFileSync(file, "utf8");
    for (const attribute of ["src", "crossorigin"]) script.removeAttribute(attribute);
    // In a string or a comment of the script, these would end or hide it.
    script.textContent = code.trim().replaceAll("</script", "<\\/script").replaceAll("<!--", "<\\!--");
    hashes.push(`sha256-${createHash("sha256").update(script.textContent).digest("base64")}`);
  }
  document
    .querySelector('meta[http-equiv="Content-Security-Policy"]')!
    .setAttribute("content", singleFilePolicy(hashes));
  return html();
}

function pageOf(text: string) {
  const dom = new JSDOM(text);
  return { document: dom.window.document, html: () => dom.serialize() };
}

/** A module of the site and all that it imports, as one text. What it consists of is small already. */
async function bundle(file: string, site: string, prepared: Map<string, string>): Promise<string> {
  const textOf = (name: string): string | null => {
    const path = join(site, "assets", name);
    return existsSync(path) ? readFileSync(path, "utf8") : null;
  };
  const { output } = (await build({
    configFile: false,
    root: site,
    logLevel: "warn",
    publicDir: false,
    plugins: [
      {
        name: "railfault:workers-inside",
        enforce: "pre",
        transform(code, id) {
          const ready = prepared.get(id) ?? inlineWorkers(code, textOf);
          prepared.set(id, ready);
          return ready === code ? null : { code: ready, map: null };
        },
      },
    ],
    build: {
      write: false,
      minify: false,
      target: "es2023",
      modulePreload: false,
      reportCompressedSize: false,
      chunkSizeWarningLimit: 10_000,
      rolldownOptions: {
        checks: { pluginTimings: false },
        input: file,
        output: { codeSplitting: false, minify: { compress: false, mangle: false, codegen: true } },
      },
    },
  })) as Rolldown.RolldownOutput;
  return output[0].code;
}
