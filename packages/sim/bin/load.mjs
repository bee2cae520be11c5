// Imports a TypeScript file of this package as it stands: put together once and kept beside the packages until a file changes, because
// hundreds of files read one by one take seconds at every start. Where nothing can be kept, they are read one by one.
import { randomUUID } from "node:crypto";
import { existsSync } from "node:fs";
import { mkdir, readdir, readFile, rename, rm, stat, writeFile } from "node:fs/promises";
import { dirname, join, relative } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";

const home = join(import.meta.dirname, "..");
const kept = join(home, "node_modules/.cache/railfault");
const A_DAY = 24 * 3600 * 1000;
/** What is put together at once, because one is started by the other. */
const TOGETHER = ["src/cli/main.ts", "src/cli/threads/evaluate.ts"];
/** Large, needed by few commands, or bound to files of their own. */
const APART = [
  "@observablehq/plot",
  "@resvg/resvg-js",
  "d3",
  "dejavu-fonts-ttf",
  "esbuild",
  "jsdom",
  "tinypool",
  "tsx",
];

/**
 * Imports the module in a file. With `RAILFAULT_KEEP=no` in the environment nothing is kept and nothing that was kept is used.
 *
 * @param {URL} url of a TypeScript file of this package
 */
export async function load(url) {
  const file = fileURLToPath(url);
  const keeps = process.env.RAILFAULT_KEEP !== "no" && !relative(home, file).startsWith("..");
  const ready = keeps ? ((await whatIsKept(file)) ?? (await putTogether(file))) : null;
  // Where something went wrong is told in the file as it was written.
  if (process.env.RAILFAULT_DEBUG) process.setSourceMapsEnabled(true);
  if (ready !== null) return import(pathToFileURL(ready).href);
  const { register } = await import("tsx/esm/api");
  // A tsconfig.json of the folder where the user happens to stand has no say here.
  register({ tsconfig: false });
  return import(url.href);
}

/** The files that are put together with this one, from `home`. */
function entriesWith(file) {
  const own = relative(home, file).replaceAll("\\", "/");
  return TOGETHER.includes(own) ? TOGETHER : [own];
}

const nameOf = ([first]) => first.replace(/\.ts$/, "").replaceAll("/", "-");

const builtFrom = (file) => relative(home, file).replace(/\.ts$/, ".mjs");

/** The kept module of a file, or null where there is none or a file that it was made of has changed since. */
async function whatIsKept(file) {
  try {
    const { folder, made } = JSON.parse(await readFile(join(kept, `${nameOf(entriesWith(file))}.json`), "utf8"));
    const same = await Promise.all(made.map(async ([name, mark]) => (await markOf(join(home, name))) === mark));
    const ready = join(kept, folder, builtFrom(file));
    return same.every(Boolean) && existsSync(ready) ? ready : null;
  } catch {
    return null;
  }
}

async function markOf(file) {
  const { mtimeMs, size } = await stat(file);
  return `${mtimeMs} ${size}`;
}

/** Puts a file and all that it imports together; null where that cannot be kept. */
async function putTogether(file) {
  const entries = entriesWith(file);
  const name = nameOf(entries);
  const folder = `${name}-${randomUUID()}`;
  try {
    await mkdir(kept, { recursive: true });
    await rmLongUnused(name);
    const { build } = await import("esbuild");
    const { metafile } = await build({
      absWorkingDir: home,
      entryPoints: [...entries],
      outbase: home,
      outdir: join(kept, folder),
      outExtension: { ".js": ".mjs" },
      bundle: true,
      splitting: true,
      external: APART,
      format: "esm",
      platform: "node",
      target: "node20",
      tsconfigRaw: {},
      // What is written in the older form asks for parts of Node.
      banner: {
        js: 'import { createRequire as ownRequire } from "node:module"; const require = ownRequire(import.meta.url);',
      },
      metafile: true,
      sourcemap: true,
      sourcesContent: false,
      logLevel: "silent",
      plugins: [ownPlaces],
    });
    // The manifest names the version of each package, and this file how they are put together.
    const own = Object.keys(metafile.inputs).filter((source) => !source.includes("node_modules"));
    const sources = ["package.json", "bin/load.mjs", ...own];
    const made = await Promise.all(sources.map(async (source) => [source, await markOf(join(home, source))]));
    // In one piece: another process may be looking.
    await writeFile(join(kept, `${folder}.json`), JSON.stringify({ folder, made }));
    await rename(join(kept, `${folder}.json`), join(kept, `${name}.json`));
    return join(kept, folder, builtFrom(file));
  } catch {
    await rm(join(kept, folder), { recursive: true, force: true }).catch(() => {});
    return null;
  }
}

/** What was kept before goes when nothing that was started with it can still be running. */
async function rmLongUnused(name) {
  for (const folder of await readdir(kept)) {
    if (!folder.startsWith(`${name}-`)) continue;
    const { mtimeMs } = await stat(join(kept, folder));
    if (Date.now() - mtimeMs > A_DAY) await rm(join(kept, folder), { recursive: true, force: true });
  }
}

/** A file that asks where it stands means where it was written. */
const ownPlaces = {
  name: "own places",
  setup({ onLoad }) {
    onLoad({ filter: /\/(?:src|bench)\/.*\.ts$/ }, async ({ path }) => {
      const text = await readFile(path, "utf8");
      const url = JSON.stringify(pathToFileURL(path).href);
      const folder = JSON.stringify(dirname(path));
      const contents = text.replaceAll("import.meta.url", url).replaceAll("import.meta.dirname", folder);
      return { contents, loader: "ts" };
    });
  },
};
