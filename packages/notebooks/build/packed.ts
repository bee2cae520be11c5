// Texts that pages load late, packed: `import text from "./capture.csv?packed"` gives its bytes gzipped, in base64. A table of samples becomes a quarter of its size.
import { readFileSync } from "node:fs";
import { gzipSync } from "node:zlib";
import type { Plugin } from "vite";

const ending = "?packed";

/** Gives the packed text of each file that is imported as `?packed`. */
export function packedTexts(): Plugin {
  return {
    name: "railfault:packed",
    enforce: "pre",
    load(id) {
      if (!id.endsWith(ending)) return null;
      const file = id.slice(0, -ending.length);
      this.addWatchFile(file);
      return `export default ${JSON.stringify(gzipSync(readFileSync(file), { level: 9 }).toString("base64"))};`;
    },
  };
}
