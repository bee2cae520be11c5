// A notebook as one file that opens from a disk: scripts, styles, picture and worker stand in the page, under a policy that names
// exactly these scripts.
import { createHash } from "node:crypto";
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { JSDOM } from "jsdom";
import { build, type InlineConfig, type Rolldown } from "vite";
import { baseConfig } from "./config.ts";
import type { Notebook } from "./notebook.ts";
import { packageFolder } from "./paths.ts";
import { singleFilePolicy } from "./policy.ts";
import { workersInside } from "./workers.ts";

/** Builds the single-file page of one notebook into `folder`. */
export async function buildSingle(notebook: Notebook, folder: string, pages: string): Promise<void> {
  const { output } = (await build(singleConfig(notebook, pages))) as Rolldown.RolldownOutput;
  const html = inline(output);
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, `${notebook.name}.html`), html);
}

function singleConfig({ name, file }: Notebook, pages: string): InlineConfig {
  const common = baseConfig(pages);
  return {
    ...common,
    mode: "production",
    logLevel: "warn",
    publicDir: false,
    // A module cannot be loaded from a blob by a page that comes from a disk; a plain script can.
    worker: { format: "iife" },
    plugins: [workersInside(), ...(common.plugins ?? [])],
    build: {
      write: false,
      target: "es2023",
      assetsInlineLimit: 0,
      cssCodeSplit: false,
      modulePreload: false,
      reportCompressedSize: false,
      chunkSizeWarningLimit: 10_000,
      rolldownOptions: { input: { [name]: file }, output: { codeSplitting: false } },
    },
  };
}

function inline(output: Rolldown.RolldownOutput["output"]): string {
  const files = new Map(output.map((file) => [file.fileName, file.type === "chunk" ? file.code : textOf(file.source)]));
  const page = [...files.keys()].find((name) => name.endsWith(".html"));
  const dom = new JSDOM(files.get(page ?? "") ?? "");
  const { document } = dom.window;
  const take = (reference: string): string => {
    const name = reference.replace(/^(?:\.\.?\/)+/, "");
    const text = files.get(name) ?? readFileSync(join(packageFolder, "public", name), "utf8");
    return text.trim();
  };
  const hashes: string[] = [];
  for (const link of document.querySelectorAll<HTMLLinkElement>('link[rel="stylesheet"]')) {
    const style = document.createElement("style");
    style.textContent = take(link.getAttribute("href")!).replaceAll("</style", "<\\/style");
    link.replaceWith(style);
  }
  for (const icon of document.querySelectorAll<HTMLLinkElement>('link[rel="icon"]'))
    icon.href = `data:image/svg+xml,${encodeURIComponent(take(icon.getAttribute("href")!))}`;
  for (const script of document.querySelectorAll<HTMLScriptElement>("script[src]")) {
    // In a string or a comment of the script, these would end or hide it.
    const text = take(script.getAttribute("src")!).replaceAll("</script", "<\\/script").replaceAll("<!--", "<\\!--");
    for (const name of ["src", "crossorigin"]) script.removeAttribute(name);
    script.textContent = text;
    hashes.push(`sha256-${createHash("sha256").update(text).digest("base64")}`);
  }
  document
    .querySelector('meta[http-equiv="Content-Security-Policy"]')!
    .setAttribute("content", singleFilePolicy(hashes));
  return dom.serialize();
}

function textOf(source: string | Uint8Array): string {
  return typeof source === "string" ? source : new TextDecoder().decode(source);
}
