// What the site leaves out of libraries. Of the charting library it takes the marks and scales of our figures. Axes, legends, tips, maps, colour schemes and calendars stay outside: figures draw
// their own axes and legends and name each colour. In their place stands what answers "none asked for", and refuses where one is asked for all the same.
import { realpathSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import type { Plugin } from "vite";
import { baseFolder, checkout } from "./paths.ts";

const fromSim = createRequire(join(realpathSync(join(checkout, "packages/sim")), "package.json"));
const chartFolder = dirname(fromSim.resolve("@observablehq/plot"));
const ours = join(baseFolder, "chart");
/** Where an integrator is chosen; see what stands for one of them. */
const integrators = join(checkout, "packages/sim/src/model/integrator.ts");

/** Modules of the library, and ours in their place: these are asked for each chart. */
const replaced: Readonly<Record<string, string>> = {
  "marker.js": join(ours, "markers.ts"),
  "legends.js": join(ours, "legends.ts"),
  "projection.js": join(ours, "projection.ts"),
  "scales/schemes.js": join(ours, "schemes.ts"),
};

/** Modules of the library, and packages below it, of which no chart of ours calls anything. */
const unused: readonly string[] = [
  "marks/axis.js",
  "marks/tip.js",
  "interactions/pointer.js",
  "scales/diverging.js",
  "scales/temporal.js",
  "time.js",
];
const unusedPackages: readonly string[] = ["d3-geo", "d3-scale-chromatic"];

const mark = "\0left-out:";

const yamlFolder = dirname(fromSim.resolve("yaml/package.json"));
const fromCharts = createRequire(fromSim.resolve("d3"));
const shapes = fromCharts.resolve("d3-shape");
const colours = fromCharts.resolve("d3-color");

/** Modules that list what there is, and the list without what nobody here asks for. */
const narrowed: readonly { readonly file: string; readonly rewrite: (code: string) => string }[] = [
  {
    // Curves: ours are straight from point to point.
    file: join(chartFolder, "curve.js"),
    rewrite: (code) =>
      without(
        code
          .replace(/^import \{[^}]*\} from "d3";/, 'import { curveLinear } from "d3";')
          .replace(/const curves = new Map\(\[[\s\S]*?\n\]\);/, 'const curves = new Map([["linear", curveLinear]]);'),
        /curveBasis/,
      ),
  },
  {
    // The curves themselves: written such that a build cannot tell that nobody asks for them.
    file: shapes,
    rewrite: (code) =>
      without(
        code
          .replace(/^(?!Linear\.)\w+\.prototype = \{[\s\S]*?^\};$/gm, "")
          .replace(/^\(MonotoneY\.prototype = [\s\S]*?^\};$/m, "")
          .replace(/(?<== )(?=\(function custom\(|curveRadial\()/g, "/* @__PURE__ */ "),
        /(?<!^Linear)\.prototype = |= \(function custom/m,
      ),
  },
  {
    // Colours: ours are given as they are shown, neither in another space nor by a name.
    file: colours,
    rewrite: (code) =>
      without(
        code
          .replace(/^define\((?:Lab|Hcl|Cubehelix),[\s\S]*?^\}\)\);$/gm, "")
          .replace(/^var named = \{[\s\S]*?^\};$/m, "var named = {};"),
        /^define\((?:Lab|Hcl|Cubehelix)|aliceblue/m,
      ),
  },
  {
    // Tags: scenario files are read as texts alone, and what is written as a tag or a directive is refused before.
    file: join(yamlFolder, "browser/dist/schema/tags.js"),
    rewrite: (code) =>
      without(
        code.replace(
          /^import \{ ([^}]*) \} from '\.\/(?:core|json|yaml-1\.1)\/(?!merge)[^']*';$/gm,
          (_, names: string) =>
            names
              .split(", ")
              .map((name) => `const ${name.replace(/^.* as /, "")} = undefined;`)
              .join(" "),
        ),
        /import .*(?:timestamp|json|floatNaN)/,
      ),
  },
];

/** The code, in which nothing of this may be left: then it is written another way than this file knows. */
function without(code: string, left: RegExp): string {
  if (left.test(code)) throw new Error(`a library is written another way than this knows: ${left} is still there`);
  return code;
}

/** Leaves out of the built site what its charts do not use of their library; the development server has all of it. */
export function chartParts(): Plugin {
  return {
    name: "railfault:chart-parts",
    apply: "build",
    enforce: "pre",
    resolveId(source, importer) {
      if (importer === undefined) return null;
      if (importer === integrators && source.endsWith("/odex.ts")) return join(baseFolder, "ode/odex.ts");
      if (source === "ml-matrix") return join(baseFolder, "least-squares/matrix.ts");
      if (unusedPackages.includes(source)) return mark + createRequire(importer).resolve(source);
      if (!importer.startsWith(chartFolder) || !source.startsWith(".")) return null;
      const file = resolve(importer, "..", source);
      const path = file.slice(chartFolder.length + 1).replaceAll("\\", "/");
      return unused.includes(path) ? mark + file : (replaced[path] ?? null);
    },
    transform(code, id) {
      const narrow = narrowed.find(({ file }) => id === file);
      return narrow === undefined ? null : { code: narrow.rewrite(code), map: null };
    },
    async load(id) {
      if (!id.startsWith(mark)) return null;
      const names = Object.keys(await import(pathToFileURL(id.slice(mark.length)).href));
      const refusals = names.map((name) => `export const ${name} = () => leftOut(${JSON.stringify(name)});`);
      return [`import { leftOut } from ${JSON.stringify(join(ours, "left-out.ts"))};`, ...refusals].join("\n");
    },
  };
}
