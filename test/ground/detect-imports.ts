import { builtinModules } from "node:module";
import type { SourceFile } from "./source.ts";

/** The stages of the library, earliest first; a file imports only from earlier ones or from its own. */
const stages = [
  "issue",
  "units",
  "scenario",
  "ode",
  "trace",
  "hybrid",
  "devices",
  "model",
  "verdict",
  "report",
  "capture",
  "study",
  "reference",
  "cli",
] as const;

const entries = new Set(["index.ts", "figures.ts", "node.ts"]);
const numerical = new Set(["ode", "trace", "hybrid", "devices"]);
const ofTheInput = new Set(["issue", "units", "scenario"]);

/** The folder of a file below packages/sim/src; an entry file stands above all stages. */
function stageOf(path: string): string {
  return path.includes("/") ? path.slice(0, path.indexOf("/")) : "";
}

function rankOf(path: string): number {
  if (entries.has(path)) return stages.length;
  return stages.indexOf(stageOf(path) as (typeof stages)[number]);
}

/** Files that stand in no stage, imports against the flow, and numerical stages that know of the input. */
export function wrongFlow(files: readonly SourceFile[]): string[] {
  return files.flatMap((file) => {
    const rank = rankOf(file.path);
    if (rank < 0) return [`${file.path} stands in no stage`];
    return file.imports.flatMap(({ specifier, target }) => {
      const complaint = `${file.path} imports ${specifier}`;
      if (specifier.startsWith("@railfault/")) return [`${complaint}: its own package from outside`];
      if (target === null) return [];
      const targetRank = rankOf(target);
      if (targetRank < 0) return [`${complaint}: no stage`];
      if (targetRank > rank) return [`${complaint}: a later stage`];
      if (numerical.has(stageOf(file.path)) && ofTheInput.has(stageOf(target)))
        return [`${complaint}: the numerical core does not know the input`];
      return [];
    });
  });
}

/** Files that import both the scenario and devices. */
export function translators(files: readonly SourceFile[]): string[] {
  return files
    .filter(({ path, imports }) => {
      const seen = new Set(imports.map(({ target }) => stageOf(target ?? "")));
      return !entries.has(path) && seen.has("scenario") && seen.has("devices");
    })
    .map(({ path }) => path);
}

/** Circles of imports, type-only ones included, each as `a.ts → b.ts → a.ts`. */
export function circles(files: readonly SourceFile[]): string[] {
  const byPath = new Map(files.map((file) => [file.path, file]));
  const done = new Set<string>();
  const trail: string[] = [];
  const found: string[] = [];
  const visit = (path: string): void => {
    const start = trail.indexOf(path);
    if (start >= 0) {
      found.push([...trail.slice(start), path].join(" → "));
      return;
    }
    if (done.has(path)) return;
    trail.push(path);
    for (const { target } of byPath.get(path)?.imports ?? []) if (target !== null) visit(target);
    trail.pop();
    done.add(path);
  };
  for (const file of files) visit(file.path);
  return found;
}

/** Every file that loading `entry` loads; empty where it does not exist. */
export function closure(files: readonly SourceFile[], entry: string): SourceFile[] {
  const byPath = new Map(files.map((file) => [file.path, file]));
  const reached = new Map<string, SourceFile>();
  const visit = (path: string): void => {
    const file = byPath.get(path);
    if (!file || reached.has(path)) return;
    reached.set(path, file);
    for (const { target, typeOnly } of file.imports) if (target !== null && !typeOnly) visit(target);
  };
  visit(entry);
  return [...reached.values()];
}

/** Imports of Node's own modules that are really loaded. */
export function nodeImports(files: readonly SourceFile[]): string[] {
  return loads(files, (specifier) => specifier.startsWith("node:") || builtinModules.includes(specifier));
}

/** Imports of the packages that bring a document or a renderer of their own. */
export function documentImports(files: readonly SourceFile[]): string[] {
  const packages = ["jsdom", "@resvg/resvg-js", "@observablehq/plot"];
  return loads(files, (specifier) => packages.some((name) => specifier === name || specifier.startsWith(`${name}/`)));
}

function loads(files: readonly SourceFile[], matches: (specifier: string) => boolean): string[] {
  return files.flatMap(({ path, imports }) =>
    imports
      .filter(({ specifier, typeOnly }) => !typeOnly && matches(specifier))
      .map(({ specifier }) => `${path} imports ${specifier}`),
  );
}
