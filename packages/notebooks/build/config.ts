// Vite's configuration: ours alone; no configuration file is looked for.
import { join } from "node:path";
import type { InlineConfig } from "vite";
import { chartParts } from "./chart-parts.ts";
import { notFound } from "./not-found.ts";
import { readNotebooks } from "./notebook.ts";
import { packedModules, packedTexts } from "./packed.ts";
import { checkout, packageFolder, pagesFolder } from "./paths.ts";
import { notebooks } from "./plugin.ts";
import { sameOrigin } from "./same-origin.ts";
import { sharedWorkers } from "./shared-workers.ts";
import { threadAhead } from "./thread-ahead.ts";

/** Packages that pages load; they are prepared before the first page asks, which would otherwise load twice. */
const prepared = [
  "@railfault/notebooks > @codemirror/commands",
  "@railfault/notebooks > @codemirror/language",
  "@railfault/notebooks > @codemirror/lint",
  "@railfault/notebooks > @codemirror/state",
  "@railfault/notebooks > @codemirror/view",
  "@railfault/notebooks > fflate",
  "@railfault/notebooks > idb",
  "@railfault/notebooks > yaml",
  "@railfault/sim > @observablehq/plot",
  "@railfault/sim > d3",
  "@railfault/sim > ml-levenberg-marquardt",
  "@railfault/sim > odex",
  "@railfault/sim > yaml",
  "@railfault/sim > zod/mini",
];

/** What the development server and the build have in common. `pages` is the folder of the notebook files. */
export function baseConfig(pages: string = pagesFolder): InlineConfig {
  return {
    configFile: false,
    root: pages,
    publicDir: join(packageFolder, "public"),
    // Two servers must not prepare packages in the same place.
    cacheDir: pages === pagesFolder ? join(packageFolder, "node_modules/.vite") : join(pages, "../.vite"),
    base: "./",
    appType: "mpa",
    plugins: [
      chartParts(),
      packedTexts(),
      packedModules(),
      sharedWorkers(),
      threadAhead(),
      sameOrigin(),
      notebooks(pages),
      notFound(pages),
    ],
    optimizeDeps: { include: prepared, noDiscovery: false },
    server: { fs: { allow: [checkout, pages] } },
  };
}

/** Where the parts of the pages stand; a short word, for a thousand names begin with it. */
export const assetsFolder = "a";

/** What runs a line and answers, wherever: the simulator without its pictures, what reads its files, and what loads further parts. */
const library = /packages.sim.src.(?!figures|report.figure)|node_modules.*.(?:yaml|zod|fflate).|preload-helper/;

/** For the built site, which goes into the folder `target`. */
export function siteConfig(target: string, pages: string = pagesFolder): InlineConfig {
  const common = baseConfig(pages);
  return {
    ...common,
    mode: "production",
    logLevel: "warn",
    build: {
      outDir: target,
      assetsDir: assetsFolder,
      emptyOutDir: true,
      target: "es2023",
      // Browsers of summer 2024 know nesting and light-dark(); written out for older ones the styles are a fifth longer.
      cssTarget: ["chrome123", "edge123", "firefox121", "safari17.5"],
      // Small pictures stay files: the policy of a page is about files.
      assetsInlineLimit: 0,
      // What is loaded late has nothing to be fetched ahead; in a single-file page there would be nothing to fetch at all.
      modulePreload: {
        polyfill: false,
        resolveDependencies: (_, files, { hostType }) => (hostType === "html" ? files : []),
      },
      reportCompressedSize: false,
      chunkSizeWarningLimit: 2000,
      rolldownOptions: {
        checks: { pluginTimings: false },
        // No code here does its work by being read.
        treeshake: { propertyReadSideEffects: false, unknownGlobalSideEffects: false },
        input: Object.fromEntries(readNotebooks(pages).map(({ name, file }) => [name, file])),
        // Each page and each part names the parts that it needs: a thousand names, which nobody reads.
        output: {
          // Left alone, seventy parts come out, and a hundredth of the site is their lists of what they take from each other. Threads take the first only.
          codeSplitting: {
            groups: [
              { name: "library", test: library, minShareCount: 2 },
              { name: "pages", minShareCount: 2 },
            ],
          },
          chunkFileNames: ({ name }) =>
            name.endsWith(".worker") ? `${assetsFolder}/[name]-[hash].js` : `${assetsFolder}/[hash:7].js`,
        },
      },
    },
  };
}
