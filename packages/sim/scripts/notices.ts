/**
 * Writes THIRD-PARTY-NOTICES.md: what the library and the notebooks need to run, by the lockfile, with the licence of each as its package holds it:
 * `npx tsx packages/sim/scripts/notices.ts`.
 */
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { parse } from "yaml";

const checkout = join(import.meta.dirname, "../../..");
export const noticesFile = join(checkout, "THIRD-PARTY-NOTICES.md");

interface Lockfile {
  readonly importers: Readonly<Record<string, { dependencies?: Record<string, { version: string }> }>>;
  readonly packages: Readonly<Record<string, { os?: readonly string[]; cpu?: readonly string[] }>>;
  readonly snapshots: Readonly<Record<string, Needs>>;
}

interface Needs {
  readonly dependencies?: Readonly<Record<string, string>>;
  readonly optionalDependencies?: Readonly<Record<string, string>>;
}

interface Notice {
  readonly name: string;
  readonly version: string;
  readonly licence: string;
  readonly text: string;
}

/** The whole file. */
export function notices(): string {
  const packages = needed().map(noticeOf);
  const rows = packages.map(({ name, version, licence }) => `| ${name} | ${version} | ${licence} |`);
  const byText = groupBy(packages, ({ text }) => text);
  const texts = [...byText].map(([text, of]) => {
    const names = of.map(({ name, version }) => `${name} ${version}`).join(", ");
    return `## ${names}\n\n\`\`\`text\n${text}\n\`\`\`\n`;
  });
  return [
    "# Third-party notices",
    "",
    "<!-- Written by packages/sim/scripts/notices.ts from the lockfile. -->",
    "",
    `Railfault itself stands under the MIT licence (LICENSE). What it needs to run are these ${packages.length} packages, none of them changed. Packages that only`,
    "bring another's ready-made program for one kind of machine stand under that one's licence.",
    "",
    "| package | version | licence |",
    "|---|---|---|",
    ...rows,
    "",
    ...texts,
  ].join("\n");
}

/** Packages that run with ours, by the lockfile, sorted; those for one kind of machine left out. */
function needed(): string[] {
  const lock = parse(readFileSync(join(checkout, "pnpm-lock.yaml"), "utf8")) as Lockfile;
  const found = new Set<string>();
  const visit = (name: string, version: string): void => {
    if (version.startsWith("link:")) return;
    const key = `${name}@${version}`;
    const bare = bareOf(key);
    if (found.has(key) || lock.packages[bare]?.os !== undefined || lock.packages[bare]?.cpu !== undefined) return;
    found.add(key);
    const needs = lock.snapshots[key];
    if (needs === undefined) throw new Error(`the lockfile does not hold ${key}`);
    for (const [other, at] of Object.entries({ ...needs.dependencies, ...needs.optionalDependencies }))
      visit(other, at);
  };
  for (const folder of ["packages/sim", "packages/notebooks"])
    for (const [name, { version }] of Object.entries(lock.importers[folder]?.dependencies ?? {})) visit(name, version);
  return [...new Set([...found].map(bareOf))].sort();
}

/** Without the versions of what it was put together with. */
const bareOf = (key: string): string => key.replace(/\(.*$/, "");

function noticeOf(key: string): Notice {
  const at = key.lastIndexOf("@");
  const [name, version] = [key.slice(0, at), key.slice(at + 1)];
  const folder = folderOf(name, version);
  const manifest = JSON.parse(readFileSync(join(folder, "package.json"), "utf8")) as { license?: unknown };
  // In the older form it is a record or a list of them.
  const { license } = manifest;
  const licence = typeof license === "string" ? license : JSON.stringify(license ?? "none told");
  const file = readdirSync(folder)
    .sort()
    .find((each) => /^(?:licen[cs]e|copying)(?:[.-]|$)/i.test(each));
  const told = file === undefined ? null : readFileSync(join(folder, file), "utf8");
  const text = told ?? `The package holds no text of its licence; its manifest says: ${licence}`;
  return { name, version, licence, text: plain(text) };
}

/** Where the package manager has put it; a hash of what it was put together with may follow the version. */
function folderOf(name: string, version: string): string {
  const store = join(checkout, "node_modules/.pnpm");
  const start = `${name.replace("/", "+")}@${version}`;
  const found = readdirSync(store).find((each) => each === start || each.startsWith(`${start}_`));
  if (found === undefined) throw new Error(`${name} ${version} is not installed: run npm start -- --once`);
  return join(store, found, "node_modules", name);
}

/** As a fenced block holds it. */
function plain(text: string): string {
  return text
    .replaceAll("\r\n", "\n")
    .replaceAll("```", "'''")
    .split("\n")
    .map((line) => line.trimEnd())
    .join("\n")
    .trim();
}

function groupBy<T>(list: readonly T[], keyOf: (each: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const each of list) groups.set(keyOf(each), [...(groups.get(keyOf(each)) ?? []), each]);
  return groups;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) writeFileSync(noticesFile, notices());
