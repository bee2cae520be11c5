// `npm run pack`: the library as it would be published, into packages/sim/dist, and as an archive into out/.
import { execFileSync } from "node:child_process";
import { chmodSync, cpSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import { scenarioJsonSchema } from "../src/scenario/index.ts";

const home = join(import.meta.dirname, "..");
const checkout = join(home, "../..");

/** What a built package is called and where it lies. */
export interface Packed {
  /** The folder that is published as it stands. */
  readonly folder: string;
  /** The archive of it. */
  readonly archive: string;
}

interface Manifest {
  readonly name: string;
  readonly version: string;
  readonly dependencies: Readonly<Record<string, string>>;
  readonly [key: string]: unknown;
}

/**
 * Builds the package: modules with their types and source maps, the command, the two schemas, and the library once more as files that a page
 * loads without a bundler.
 *
 * @param folder made anew; whatever stands there goes
 * @param archives where the archive goes
 * @throws where the sources do not compile, or npm is not there
 */
export async function pack(folder = join(home, "dist"), archives = join(checkout, "out")): Promise<Packed> {
  rmSync(folder, { recursive: true, force: true });
  compile(join(folder, "lib"));
  cpSync(join(home, "src/cli/threads/thread.mjs"), join(folder, "lib/cli/threads/thread.mjs"));
  for (const name of ["railfault.mjs", "load.mjs"]) cpSync(join(home, "packed", name), join(folder, "bin", name));
  chmodSync(join(folder, "bin/railfault.mjs"), 0o755);
  await bundle(join(folder, "browser"));
  for (const name of ["lib", "browser"]) nameSources(join(folder, name));
  writeFileSync(join(folder, "scenario.schema.json"), `${JSON.stringify(scenarioJsonSchema(), null, 2)}\n`);
  // The command finds it beside its module, others under the package's own name for it.
  for (const name of ["result.schema.json", "lib/report/result.schema.json"])
    cpSync(join(home, "src/report/result.schema.json"), join(folder, name));
  for (const name of ["LICENSE", "CHANGELOG.md", "THIRD-PARTY-NOTICES.md"])
    cpSync(join(checkout, name), join(folder, name));
  cpSync(join(home, "packed/README.md"), join(folder, "README.md"));
  cpSync(join(home, "scenarios"), join(folder, "scenarios"), { recursive: true });
  writeFileSync(join(folder, "package.json"), `${JSON.stringify(publishedManifest(folder), null, 2)}\n`);
  return { folder, archive: archiveOf(folder, archives) };
}

function compile(target: string): void {
  const compiler = createRequire(import.meta.url).resolve("typescript/lib/tsc.js");
  try {
    execFileSync(process.execPath, [compiler, "-p", join(home, "packed/tsconfig.json"), "--outDir", target]);
  } catch (error) {
    throw new Error(`The library does not compile:\n${(error as { stdout?: Buffer }).stdout ?? error}`);
  }
}

// Both entries share what they have in common, so that a page with figures loads nothing twice.
async function bundle(target: string): Promise<void> {
  await build({
    absWorkingDir: home,
    entryPoints: { index: "src/index.ts", figures: "src/figures.ts" },
    outdir: target,
    bundle: true,
    splitting: true,
    format: "esm",
    platform: "browser",
    target: "es2023",
    minify: true,
    sourcemap: true,
    legalComments: "none",
    tsconfigRaw: {},
    logLevel: "silent",
  });
}

/** In a source map the sources are called by what they are, not by where this checkout lies; their texts stand in the map. */
function nameSources(folder: string): void {
  for (const name of readdirSync(folder, { recursive: true, encoding: "utf8" })) {
    if (!name.endsWith(".map")) continue;
    const file = join(folder, name);
    const map = JSON.parse(readFileSync(file, "utf8")) as { sources: string[] };
    const sources = map.sources.map((source) => {
      const own = /(?:^|\/)packages\/sim\/(src\/.+)$|^(?:\.\.\/)+(src\/.+)$/.exec(source);
      const other = source.slice(Math.max(0, source.lastIndexOf("node_modules/")));
      return `railfault:///${own?.[1] ?? own?.[2] ?? other}`;
    });
    writeFileSync(file, JSON.stringify({ ...map, sources }));
  }
}

function publishedManifest(folder: string): Manifest {
  const {
    private: _,
    devDependencies: __,
    bin: ___,
    exports: ____,
    ...own
  } = JSON.parse(readFileSync(join(home, "package.json"), "utf8")) as Manifest;
  const entry = (name: string) => ({ types: `./lib/${name}.d.ts`, default: `./lib/${name}.js` });
  const ready = (name: string) => ({ types: `./lib/${name}.d.ts`, default: `./browser/${name}.js` });
  return {
    ...own,
    sideEffects: ["./bin/**", "./lib/cli/**"],
    bin: { railfault: "./bin/railfault.mjs" },
    exports: {
      ".": entry("index"),
      "./figures": entry("figures"),
      "./node": entry("node"),
      "./browser": ready("index"),
      "./browser/figures": ready("figures"),
      "./scenario.schema.json": "./scenario.schema.json",
      "./result.schema.json": "./result.schema.json",
      "./package.json": "./package.json",
    },
    dependencies: neededBy(folder, own.dependencies),
  };
}

// What starts the sources as they stand is not asked for by the built modules.
function neededBy(folder: string, dependencies: Manifest["dependencies"]): Manifest["dependencies"] {
  const modules = readdirSync(join(folder, "lib"), { recursive: true, encoding: "utf8" })
    .filter((name) => /\.(?:m?js|d\.ts)$/.test(name))
    .map((name) => readFileSync(join(folder, "lib", name), "utf8"))
    .join("\n");
  // In a text that is looked up as much as in an import.
  const named = (name: string): boolean =>
    [`"${name}"`, `"${name}/`, `\`${name}/`].some((text) => modules.includes(text));
  return Object.fromEntries(Object.entries(dependencies).filter(([name]) => named(name)));
}

function archiveOf(folder: string, archives: string): string {
  mkdirSync(archives, { recursive: true });
  const windows = process.platform === "win32";
  const said = execFileSync("npm", ["pack", "--json", "--ignore-scripts", "--pack-destination", archives], {
    cwd: folder,
    encoding: "utf8",
    shell: windows,
  });
  const [{ filename }] = JSON.parse(said) as [{ filename: string }];
  return join(archives, filename);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const { folder, archive } = await pack();
  const here = (path: string): string => relative(process.cwd(), path);
  console.log(`Package: ${here(folder)}\nArchive: ${here(archive)}`);
}
