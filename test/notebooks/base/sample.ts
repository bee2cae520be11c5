import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { type Notebook, readNotebook } from "../../../packages/notebooks/build/notebook.ts";
import { pagesFolder } from "../../../packages/notebooks/build/paths.ts";
import { root } from "../../ground/files.ts";

/** A notebook from its cells, taken to stand beside the real ones. */
export function sample(cells: string, attributes = 'description="A sample."', name = "sample"): Notebook {
  return readNotebook(join(pagesFolder, `${name}.html`), page(cells, attributes));
}

/** The text of a notebook file. Its cells begin on line 4. */
export function page(cells: string, attributes = 'description="A sample."'): string {
  return `<!doctype html>\n<notebook ${attributes}>\n  <title>Sample</title>\n${cells}\n</notebook>\n`;
}

/** A cell of code. */
export function code(id: number, text: string): string {
  return `  <script id="${id}" type="text/x-typescript">\n    ${text}\n  </script>`;
}

/** A cell of prose. */
export function prose(id: number, text: string): string {
  return `  <script id="${id}" type="text/markdown">\n    ${text}\n  </script>`;
}

/** What the cells of such a folder may import: something that a worker computes, and a place that fails. */
const face = `
  export function doubled(x: number): Promise<number> {
    const worker = new Worker(new URL("./double.worker.ts", import.meta.url), { type: "module" });
    return new Promise((resolve) => {
      worker.onmessage = ({ data }) => resolve(data);
      worker.postMessage(x);
    });
  }`;
const worker = `
  import { parseQuantity } from "@railfault/sim";
  const two = parseQuantity("2 V", "voltage");
  onmessage = ({ data }) => postMessage(two.ok ? data * two.value : 0);`;

/** A folder of notebook files inside the checkout, where a cell's imports mean what they mean to the real ones; with its removal. */
export function pagesWith(files: Readonly<Record<string, string>>): { folder: string; remove: () => void } {
  mkdirSync(join(root, "out"), { recursive: true });
  const top = mkdtempSync(join(root, "out/pages-"));
  const folder = join(top, "pages");
  mkdirSync(folder);
  mkdirSync(join(top, "src"));
  writeFileSync(join(top, "src/index.ts"), face);
  writeFileSync(join(top, "src/double.worker.ts"), worker);
  for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
  return { folder, remove: () => rmSync(top, { recursive: true, force: true }) };
}
