// Texts that are packed in the site, as base64 of gzip: a quarter of their size.
//
// `import text from "./capture.csv?packed"` gives the packed bytes of a file that a page loads late and unpacks itself. In the built site three modules are packed whole: the
// scenario files that come with the pages, the page that shows its own file, and the format's schema, so that nothing of what makes it has to be loaded.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import type { Plugin } from "vite";
import { checkout, packageFolder } from "./paths.ts";

const ending = "?packed";
/** The page that shows its own file. */
const shown = "/writing.html?raw";
const simFolder = join(checkout, "packages/sim");
const textsFile = join(packageFolder, "src/line/shipped-texts.ts");
const schemaFile = join(simFolder, "src/scenario/schema/json-schema.ts");

const packed = (bytes: Uint8Array | string): string => JSON.stringify(gzipSync(bytes, { level: 9 }).toString("base64"));

/** A module that unpacks JSON when it is loaded, or when its function is called. */
const unpacking = (value: unknown): string =>
  [
    'import { gunzipSync, strFromU8 } from "fflate";',
    `const packed = ${packed(JSON.stringify(value))};`,
    "const unpacked = () => JSON.parse(strFromU8(gunzipSync(Uint8Array.from(atob(packed), (letter) => letter.charCodeAt(0)))));",
  ].join("\n");

/** Gives the packed text of each file that is imported as `?packed`. */
export function packedTexts(): Plugin {
  return {
    name: "railfault:packed",
    enforce: "pre",
    load(id) {
      if (!id.endsWith(ending)) return null;
      const file = id.slice(0, -ending.length);
      this.addWatchFile(file);
      return `export default ${packed(readFileSync(file))};`;
    },
  };
}

/** Packs, in the built site, the modules that are plain data. */
export function packedModules(): Plugin {
  return {
    name: "railfault:packed-modules",
    apply: "build",
    enforce: "pre",
    async load(id) {
      if (id === textsFile) {
        const folder = join(simFolder, "scenarios");
        const files = readdirSync(folder).filter((name) => name.endsWith(".yaml"));
        const texts = files.map((name) => [name.slice(0, -".yaml".length), readFileSync(join(folder, name), "utf8")]);
        return `${unpacking(Object.fromEntries(texts))}\nexport const shippedTexts = /* @__PURE__ */ unpacked();`;
      }
      if (id.endsWith(shown)) {
        const text = readFileSync(id.slice(0, -"?raw".length), "utf8");
        return `${unpacking(text)}\nexport default unpacked();`;
      }
      if (id === schemaFile) {
        const { scenarioJsonSchema } = await import("@railfault/sim");
        return `${unpacking(scenarioJsonSchema())}\nexport const scenarioJsonSchema = unpacked;`;
      }
      return null;
    },
  };
}
