// A notebook as one file that opens from a disk, made of the built site: scripts, styles, picture and worker stand in the page, under a
// policy that names exactly these scripts.

import { createHash } from "node:crypto";
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { JSDOM } from "jsdom";
import { build, type Plugin, type Rolldown } from "vite";
import { assetsFolder } from "./config.ts";
import { singleFilePolicy } from "./policy.ts";
import { aheadMark } from "./thread-ahead.ts";
import { inlineWorkers } from "./workers.ts";

/** Makes the single-file form of each page of the site in `site` (`index.html` and so on), in its folder `single`. */
export async function buildSingles(site: string, names: readonly string[]): Promise<void> {
  const parts: Parts = { prepared: new Map(), workers: await workerTexts(site) };
  mkdirSync(join(site, "single"), { recursive: true });
  for (const name of names) writeFileSync(join(site, "single", name), await buildSingle(site, name, parts));
}

interface Parts {
  /** The modules that pages share, with their workers inside. */
  readonly prepared: Map<string, string>;
  /** Each worker as one plain script, by the name of its file in the site. */
  readonly workers: ReadonlyMap<string, string>;
}

async function workerTexts(site: string): Promise<ReadonlyMap<string, string>> {
  const names = readdirSync(join(site, assetsFolder)).filter((name) => /\.worker-[^/]*\.js$/.test(name));
  const texts = names.map(async (name) => [name, await oneFile(join(site, assetsFolder, name), site, "iife")] as const);
  return new Map(await Promise.all(texts));
}

async function buildSingle(site: string, name: string, parts: Parts): Promise<string> {
  const { document, html } = pageOf(readFileSync(join(site, name), "utf8"));
  const fileOf = (element: Element, attribute: string): string => join(site, element.getAttribute(attribute) ?? "");
  for (const own of document.querySelectorAll(`link[rel="modulepreload"], script[${aheadMark}]`)) own.remove();
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
    const code = script.type === "module" ? await bundle(file, site, parts) : readFileSync(file, "utf8");
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
function bundle(file: string, site: string, { prepared, workers }: Parts): Promise<string> {
  return oneFile(file, site, "es", {
    name: "railfault:workers-inside",
    enforce: "pre",
    transform(code, id) {
      const ready = prepared.get(id) ?? inlineWorkers(code, (name) => workers.get(name) ?? null);
      prepared.set(id, ready);
      return ready === code ? null : { code: ready, map: null };
    },
  });
}

async function oneFile(file: string, site: string, format: "es" | "iife", plugin?: Plugin): Promise<string> {
  const { output } = (await build({
    configFile: false,
    root: site,
    logLevel: "warn",
    publicDir: false,
    plugins: plugin === undefined ? [] : [plugin],
    build: {
      write: false,
      minify: false,
      target: "es2023",
      modulePreload: false,
      reportCompressedSize: false,
      chunkSizeWarningLimit: 10_000,
      rolldownOptions: {
        // A worker in one text has no address; what it would load late by one is in the text.
        checks: { pluginTimings: false, emptyImportMeta: format === "es" },
        input: file,
        output: { format, codeSplitting: false, minify: { compress: false, mangle: false, codegen: true } },
      },
    },
  })) as Rolldown.RolldownOutput;
  return output[0].code;
}
