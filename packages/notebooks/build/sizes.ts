// How large the site is, measured on the files as they stand.
import { readdirSync, readFileSync, statSync } from "node:fs";
import { basename, join, relative } from "node:path";
import { gzipSync } from "node:zlib";
import { notFoundPage } from "./not-found.ts";

/** Limits in bytes. */
export const limits = { site: 2_000_000, firstPage: 600_000 } as const;

/** What stands beside the notebooks in the site. */
const APART = ["single/", "reference/"];

/** Sizes in bytes. */
export interface Sizes {
  /** All files of the notebooks together. The single-file pages hold the same once more, and guides and reference stand apart: neither counts. */
  readonly site: number;
  /** The first page with everything that it can load, compressed. */
  readonly firstPage: number;
  readonly pages: readonly { readonly name: string; readonly compressed: number }[];
  readonly single: readonly { readonly name: string; readonly bytes: number }[];
}

/** Measures a built site. */
export function measure(folder: string): Sizes {
  const all = filesOf(folder);
  const site = all.filter((file) => !APART.some((other) => file.startsWith(other)));
  const size = (file: string): number => statSync(join(folder, file)).size;
  const pages = site
    .filter((file) => file.endsWith(".html") && file !== notFoundPage)
    .map((name) => ({
      name,
      compressed: sum(loaded(folder, name, site).map((file) => compressed(join(folder, file)))),
    }));
  return {
    site: sum(site.map(size)),
    firstPage: pages.find(({ name }) => name === "index.html")?.compressed ?? 0,
    pages,
    single: all.filter((file) => file.startsWith("single/")).map((name) => ({ name, bytes: size(name) })),
  };
}

/** What is too large, as sentences. */
export function tooLarge({ site, firstPage }: Sizes): string[] {
  const problems: string[] = [];
  if (site > limits.site) problems.push(`the notebooks have ${kilobytes(site)}; allowed are ${kilobytes(limits.site)}`);
  if (firstPage > limits.firstPage)
    problems.push(`the first page has ${kilobytes(firstPage)} compressed; allowed are ${kilobytes(limits.firstPage)}`);
  return problems;
}

/** A size for people. */
export function kilobytes(bytes: number): string {
  return `${(bytes / 1000).toFixed(0)} kB`;
}

// Every file that a page names, directly or through others: also what is loaded late, and its workers.
function loaded(folder: string, page: string, files: readonly string[]): string[] {
  const reached = new Set<string>();
  const visit = (file: string): void => {
    if (reached.has(file)) return;
    reached.add(file);
    const text = readFileSync(join(folder, file), "utf8");
    for (const other of files) if (!other.endsWith(".html") && text.includes(basename(other))) visit(other);
  };
  visit(page);
  return [...reached];
}

function compressed(file: string): number {
  return gzipSync(readFileSync(file)).length;
}

/** Every file below a folder, by its path in it with forward slashes, sorted. */
export function filesOf(folder: string): string[] {
  const entries = readdirSync(folder, { recursive: true, withFileTypes: true });
  return entries
    .filter((entry) => entry.isFile())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)).replaceAll("\\", "/"))
    .sort();
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, each) => total + each, 0);
}
