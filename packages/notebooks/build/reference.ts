// The guides and the reference of the library as pages of the same site, in a folder of their own, with a search that works offline.
import { appendFileSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { Application, Converter, type DocumentReflection, ReflectionKind, type TypeDocOptions } from "typedoc";
import { notFoundPage } from "./not-found.ts";
import { checkout, packageFolder } from "./paths.ts";
import { referencePolicy } from "./policy.ts";
import { filesOf } from "./sizes.ts";

/** Name of the folder in the site. */
const referenceFolder = "reference";

const sim = join(checkout, "packages/sim");

/** Guides in the order in which they are read; every other page of prose follows them. */
const FIRST = ["first-fault", "verdict", "physics", "accuracy", "write-a-device"];

/** How much was made, and what the generator complained of. */
export interface Reference {
  readonly pages: number;
  readonly bytes: number;
}

/**
 * Writes guides and reference into the folder `reference` of a site and links every notebook of it to them.
 *
 * @param site a built site
 * @throws where a comment or a guide points to what is not there, or a page would load something from elsewhere
 */
export async function buildReference(site: string): Promise<Reference> {
  const folder = join(site, referenceFolder);
  rmSync(folder, { recursive: true, force: true });
  const app = await Application.bootstrapWithPlugins(options(folder));
  const complaints: string[] = [];
  app.logger = Object.assign(app.logger, {
    log: (message: string, level: number) => {
      if (level >= WARNING) complaints.push(message);
    },
  });
  app.converter.on(Converter.EVENT_CREATE_DOCUMENT, (_context, document: DocumentReflection) => {
    document.name = headingOf(document) ?? document.name;
  });
  app.converter.on(Converter.EVENT_RESOLVE_BEGIN, ({ project }) => {
    // By the names under which they are imported.
    for (const entry of project.getChildrenByKind(ReflectionKind.Module))
      entry.name = entry.name.replace(/^src/, "@railfault/sim");
  });
  const project = await app.convert();
  if (project !== undefined) {
    app.validate(project);
    await app.generateOutputs(project);
  }
  if (project === undefined || complaints.length > 0)
    throw new Error(`The reference cannot be built:\n${complaints.join("\n")}`);
  const files = filesOf(folder);
  const pages = files.filter((file) => file.endsWith(".html"));
  for (const page of pages) underPolicy(folder, page);
  writeFileSync(join(folder, "assets/scheme.js"), SCHEME);
  appendFileSync(join(folder, "assets/style.css"), SCROLLED);
  linkFrom(site);
  return { pages: pages.length, bytes: files.reduce((sum, file) => sum + statSync(join(folder, file)).size, 0) };
}

/** The generator's own number for a warning; an error's is higher. */
const WARNING = 2;

function options(out: string): Partial<TypeDocOptions> {
  const docs = readdirSync(join(sim, "docs")).filter((name) => name.endsWith(".md"));
  const rank = (name: string): number => {
    const at = FIRST.indexOf(name.replace(".md", ""));
    return at < 0 ? FIRST.length : at;
  };
  return {
    name: "Railfault: guides and reference",
    entryPoints: ["index", "figures", "node"].map((name) => join(sim, `src/${name}.ts`)),
    tsconfig: join(checkout, "tsconfig.json"),
    basePath: sim,
    readme: join(sim, "packed/README.md"),
    projectDocuments: docs.sort((a, b) => rank(a) - rank(b) || (a < b ? -1 : 1)).map((name) => join(sim, "docs", name)),
    out,
    // The type check is another command's work.
    skipErrorChecking: true,
    disableSources: true,
    hideGenerator: true,
    searchInComments: true,
    searchInDocuments: true,
    // Who looks for a word of the trade wants to read about it first. A guide's many words count little each and a name's few a lot, tenfold where it is the word itself: with less no guide
    // stands among the ten that are shown for "fuse".
    searchGroupBoosts: { Documents: 150 },
    favicon: join(packageFolder, "public/favicon.svg"),
    sort: ["kind", "alphabetical"],
    navigationLinks: { "The notebooks": "../index.html" },
    validation: { invalidLink: true, notExported: false, notDocumented: false, invalidPath: false },
    highlightLanguages: ["typescript", "javascript", "yaml", "bash", "json", "html"],
  };
}

function headingOf(document: DocumentReflection): string | null {
  const text = document.content.map(({ text }) => text).join("");
  return /^# (.+)$/m.exec(text)?.[1]?.replaceAll("`", "") ?? null;
}

// What the generator writes into each page as a script, in a file of its own: the pages allow none of theirs.
const SCHEME = `document.documentElement.dataset.theme = localStorage.getItem("tsd-theme") || "os";
document.body.style.display = "none";
setTimeout(() => (window.app ? app.showPage() : document.body.style.removeProperty("display")), 500);
`;

// Diagrams keep their lines, and what is wider than a telephone is scrolled by itself, not with its page.
const SCROLLED = `
.tsd-typography pre,.tsd-typography pre code{white-space:pre;overflow-wrap:normal;overflow-x:auto}
.tsd-typography table{display:block;overflow-x:auto}
`;

const INLINE = /<script>(document\.documentElement\.dataset\.theme[^<]*)<\/script>/;
const LOADED = /<(?:script|img|iframe|link|source)\b[^>]*?(?:src|href|srcset)="(?:[a-z]+:)?\/\/[^"]*"/i;

/** Gives a page the policy of the site, and refuses it where it would load something from elsewhere. */
function underPolicy(folder: string, page: string): void {
  const file = join(folder, page);
  const up = "../".repeat(page.split("/").length - 1);
  const meta = `<meta http-equiv="Content-Security-Policy" content="${referencePolicy}"/>`;
  const text = readFileSync(file, "utf8")
    .replace("<head>", () => `<head>${meta}`)
    .replace(INLINE, () => `<script src="${up}assets/scheme.js"></script>`);
  const foreign = LOADED.exec(text)?.[0];
  if (foreign !== undefined) throw new Error(`${referenceFolder}/${page} loads from elsewhere: ${foreign}`);
  if (/<script>/.test(text)) throw new Error(`${referenceFolder}/${page} has a script of its own`);
  writeFileSync(file, text);
}

/** A link in the foot of each page: who has a question has it where they are. */
function linkFrom(site: string): void {
  const link = `<p><a href="./${referenceFolder}/index.html">Guides and reference</a></p>`;
  for (const page of readdirSync(site).filter((name) => name.endsWith(".html") && name !== notFoundPage)) {
    const file = join(site, page);
    const text = readFileSync(file, "utf8");
    if (!text.includes(link))
      writeFileSync(
        file,
        text.replace('<footer class="site-foot">', (foot) => `${foot}${link}`),
      );
  }
}
