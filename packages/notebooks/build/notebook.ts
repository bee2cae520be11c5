// A notebook file as data: kit's format, read with kit's own reader, plus what our frame needs and where each cell stands.
import { readdirSync, readFileSync } from "node:fs";
import { basename, join } from "node:path";
import { type Cell, deserialize } from "@observablehq/notebook-kit";
import { JSDOM } from "jsdom";
import { lineAt, NotebookProblem } from "./problem.ts";

/** One cell of a notebook file. */
export interface NotebookCell {
  readonly id: number;
  /** TypeScript, or prose with formulas and `${…}`. */
  readonly kind: "ts" | "md";
  /** Its text without the indentation that the file gives it. */
  readonly text: string;
  /** As kit's transpiler takes it. */
  readonly kit: Cell;
  /** Where its text begins and ends in the file, for the type check; `raw` is what stands there. */
  readonly begin: number;
  readonly raw: string;
  /** First line of the text, counted from 1. */
  readonly line: number;
  /** Classes for its container, and the height kept free for it in pixels. */
  readonly className: string;
  readonly height: number | null;
}

/** One notebook file. */
export interface Notebook {
  readonly file: string;
  /** `index` for index.html. */
  readonly name: string;
  readonly source: string;
  readonly title: string;
  /** What the page's own first heading says: the title unless the file has a `heading`. */
  readonly heading: string;
  /** What the navigation says: the title unless the file has a `short`. */
  readonly short: string;
  /** One sentence for the description of the page. */
  readonly description: string;
  readonly order: number;
  readonly cells: readonly NotebookCell[];
}

/** Where an element's tags stand in the file. */
interface ElementLocation {
  readonly startTag?: { readonly endOffset: number };
  readonly endTag?: { readonly startOffset: number };
}

const kinds: Readonly<Record<string, NotebookCell["kind"]>> = { "text/x-typescript": "ts", "text/markdown": "md" };

/** The notebook files of a folder, in the order of the navigation; files without an `order` come last, by name. */
export function readNotebooks(folder: string): Notebook[] {
  return readdirSync(folder)
    .filter((name) => name.endsWith(".html"))
    .map((name) => readNotebook(join(folder, name), readFileSync(join(folder, name), "utf8")))
    .sort((a, b) => a.order - b.order || a.name.localeCompare(b.name));
}

/** Reads one notebook file. Throws a {@link NotebookProblem} that says where and what is allowed. */
export function readNotebook(file: string, source: string): Notebook {
  const dom = new JSDOM(source, { includeNodeLocations: true });
  const { document } = dom.window;
  const element = document.querySelector("notebook");
  if (!element) throw new NotebookProblem(file, 1, "no <notebook> element; a notebook file begins with one");
  const startOf = (node: Node): number => dom.nodeLocation(node)?.startOffset ?? 0;
  const lineOf = (node: Node): number => lineAt(source, startOf(node));
  const title = element.querySelector("title")?.textContent?.trim() ?? "";
  if (title === "") throw new NotebookProblem(file, lineOf(element), "the notebook needs a <title>");
  const description = element.getAttribute("description")?.trim() ?? "";
  if (description === "")
    throw new NotebookProblem(file, lineOf(element), 'the notebook needs a description="one sentence"');
  const kit = deserialize(source, { parser: new dom.window.DOMParser() });
  const scripts = [...element.querySelectorAll("script")];
  const cells = scripts.map((script, index): NotebookCell => {
    const type = script.getAttribute("type") ?? "";
    const kind = kinds[type];
    if (!kind) {
      const allowed = Object.keys(kinds).join(" or ");
      throw new NotebookProblem(file, lineOf(script), `a cell has the type "${type}"; allowed is ${allowed}`);
    }
    const cell = kit.cells[index]!;
    if (script.id !== String(cell.id))
      throw new NotebookProblem(
        file,
        lineOf(script),
        `a cell needs an id of its own, a whole number from 1 (got "${script.id}"); free is ${cell.id}`,
      );
    const location = dom.nodeLocation(script) as ElementLocation | null;
    const begin = location?.startTag?.endOffset ?? 0;
    const raw = source.slice(begin, location?.endTag?.startOffset ?? begin);
    return {
      id: cell.id,
      kind,
      text: cell.value,
      kit: cell,
      begin,
      raw,
      line: lineAt(source, begin) + (/^[ \t]*\r?\n/.test(raw) ? 1 : 0),
      className: script.className,
      height: heightOf(script.getAttribute("height"), file, lineOf(script)),
    };
  });
  return {
    file,
    name: basename(file, ".html"),
    source,
    title,
    heading: element.getAttribute("heading")?.trim() || title,
    short: element.getAttribute("short")?.trim() || title,
    description,
    order: orderOf(element.getAttribute("order"), file, lineOf(element)),
    cells,
  };
}

function orderOf(text: string | null, file: string, line: number): number {
  if (text === null) return Number.POSITIVE_INFINITY;
  if (/^\d+$/.test(text)) return Number(text);
  throw new NotebookProblem(file, line, `order="${text}" is no whole number`);
}

function heightOf(text: string | null, file: string, line: number): number | null {
  if (text === null) return null;
  if (/^\d+$/.test(text)) return Number(text);
  throw new NotebookProblem(file, line, `height="${text}" is no whole number of pixels`);
}
