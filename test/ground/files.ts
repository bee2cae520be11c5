import { existsSync, readdirSync } from "node:fs";
import { join, relative, sep } from "node:path";

/** The top of the checkout. */
export const root = join(import.meta.dirname, "../..");

const skippedFolders = new Set(["node_modules", "out", "dist", "coverage", ".git"]);

/**
 * Every file below `folder` whose name ends in one of `endings`, as paths with forward slashes relative to `folder`,
 * sorted. A folder that does not exist has no files.
 */
export function filesBelow(folder: string, endings: readonly string[]): string[] {
  if (!existsSync(folder)) return [];
  const found: string[] = [];
  const walk = (current: string): void => {
    for (const entry of readdirSync(current, { withFileTypes: true })) {
      const path = join(current, entry.name);
      if (entry.isDirectory()) {
        if (!skippedFolders.has(entry.name)) walk(path);
      } else if (endings.some((ending) => entry.name.endsWith(ending))) {
        found.push(relative(folder, path).split(sep).join("/"));
      }
    }
  };
  walk(folder);
  return found.sort();
}
