import type { SourceFile } from "./source.ts";

/** The folders of packages/notebooks/src by rank; those of one rank know nothing of each other. */
const ranks: readonly (readonly string[])[] = [["controls", "kept", "run"], ["show"], ["line"], ["pages"]];
/** The runtime and the frame of pages; nothing else imports them, and they import nothing else. */
const apart = ["base"];
const library = ["@railfault/sim", "@railfault/sim/figures"];

function folderOf(path: string): string {
  return path.includes("/") ? path.slice(0, path.indexOf("/")) : "";
}

function rankOf(folder: string): number {
  return ranks.findIndex((names) => names.includes(folder));
}

/** Files of packages/notebooks/src in no known folder, imports against the order, and imports of what pages must not load. */
export function wrongInNotebooks(files: readonly SourceFile[]): string[] {
  return files.flatMap((file) => {
    const folder = folderOf(file.path);
    const known = file.path === "index.ts" || rankOf(folder) >= 0 || apart.includes(folder);
    if (!known) return [`${file.path} stands in no known folder`];
    return file.imports.flatMap(({ specifier, target }) => {
      const reason = target === null ? wrongPackage(folder, specifier) : wrongTarget(file.path, target);
      return reason === null ? [] : [`${file.path} imports ${specifier}: ${reason}`];
    });
  });
}

function wrongPackage(folder: string, specifier: string): string | null {
  if (specifier.startsWith("node:")) return "pages know nothing of Node";
  if (!specifier.startsWith("@railfault/")) return null;
  if (!library.includes(specifier)) return `of the library pages see ${library.join(" and ")} only`;
  if (folder === "controls" || folder === "base") return "it knows nothing of lines";
  if (folder === "run" && specifier !== "@railfault/sim") return "a worker has no document";
  return null;
}

function wrongTarget(path: string, target: string): string | null {
  // A page may show its own file: text, not code.
  if (new RegExp(`^\\.\\./pages/${path.split("/")[1]}\\.html\\?raw$`).test(target) && path.startsWith("pages/"))
    return null;
  if (target.startsWith("..")) return "outside the package's sources";
  const [from, to] = [folderOf(path), folderOf(target)];
  if (from === to && path !== "index.ts") return null;
  if (apart.includes(from) || apart.includes(to)) return "the base stands apart";
  if (path === "index.ts") return rankOf(to) >= 0 ? null : "not a folder of pages";
  if (rankOf(to) < 0 || rankOf(to) >= rankOf(from)) return "against the order";
  return null;
}

/** One pattern for prose and for what pages compute; it imports nothing. */
const shared = "../src/controls/units-kept.ts";

/** What the build side takes of the pages' sources: only the base, and how numbers keep to their units. */
export function wrongInBuild(files: readonly SourceFile[]): string[] {
  return files.flatMap(({ path, imports }) =>
    imports
      .filter(({ target }) => target?.startsWith("..") && !target.startsWith("../src/base/") && target !== shared)
      .map(({ specifier }) => `${path} imports ${specifier}: of the pages the build knows the base only`),
  );
}
