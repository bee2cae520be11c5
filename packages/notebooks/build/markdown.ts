// Prose cells: rendered once, while the page is built. A `${…}` leaves a place that the page fills with the value, as text or as the
// element it is; the renderer never runs in the browser, and nothing computed is ever read as markup.
import { parseTemplate } from "@observablehq/notebook-kit";
import { JSDOM } from "jsdom";
import MarkdownIt from "markdown-it";
import { unitsKept } from "../src/controls/units-kept.ts";
import { formulas } from "./formulas.ts";
import type { Notebook, NotebookCell } from "./notebook.ts";
import { lineAt, NotebookProblem } from "./problem.ts";

/** A `${…}` of a prose cell. */
export interface Interpolation {
  /** The expression between the braces. */
  readonly expression: string;
  /** Where it begins and ends in the cell's text. */
  readonly begin: number;
  readonly end: number;
}

/** The expressions of a prose cell. */
export function interpolations(notebook: Pick<Notebook, "file">, cell: NotebookCell): Interpolation[] {
  const { quasis } = template(notebook, cell);
  return quasis.slice(1).map((after, index) => {
    const begin = quasis[index]!.end + 2;
    const end = after.start - 1;
    return { expression: cell.text.slice(begin, end), begin, end };
  });
}

interface Template {
  readonly quasis: readonly { readonly start: number; readonly end: number }[];
}

function template({ file }: Pick<Notebook, "file">, cell: NotebookCell): Template {
  try {
    return parseTemplate(cell.text) as unknown as Template;
  } catch (error) {
    const line = (error as { loc?: { line?: number } }).loc?.line ?? 1;
    throw new NotebookProblem(file, cell.line + line - 1, `cannot read a \${…}: ${(error as Error).message}`);
  }
}

// Private characters: they cannot stand in prose by accident and mean nothing to the renderer.
const [open, close] = ["\uE000", "\uE001"];
const place = /\uE000(\d+)\uE001/;

/** The prose of a cell as HTML, with `<span class="value" data-value="N">` where the N-th expression's value belongs. */
export function renderProse(notebook: Pick<Notebook, "file">, cell: NotebookCell): string {
  const values = interpolations(notebook, cell);
  let text = "";
  let from = 0;
  values.forEach(({ begin, end }, index) => {
    text += `${cell.text.slice(from, begin - 2)}${open}${index}${close}`;
    from = end + 1;
  });
  text += cell.text.slice(from);
  // As in a template of the language: \${ is no expression.
  text = text.replaceAll("\\${", "${").replaceAll("$\\{", "${");
  const { document } = new JSDOM("<main></main>").window;
  const main = document.querySelector("main")!;
  const refuse = (where: string): void => {
    const found = place.exec(where);
    if (!found) return;
    const line = cell.line + lineAt(cell.text, values[Number(found[1])]!.begin) - 1;
    const what = "a value in braces stands in a tag or in a formula; it may stand between tags only";
    throw new NotebookProblem(notebook.file, line, what);
  };
  try {
    main.innerHTML = renderer(refuse).render(text);
  } catch (error) {
    if (error instanceof NotebookProblem) throw error;
    throw new NotebookProblem(notebook.file, cell.line, `a formula cannot be read: ${(error as Error).message}`);
  }
  for (const element of main.querySelectorAll("*")) for (const { value } of element.attributes) refuse(readable(value));
  keepUnits(document, main);
  fillPlaces(document, main);
  nameHeadings(main);
  // As a character it takes a third of what its name takes in a page.
  return main.innerHTML.replaceAll("&nbsp;", "\u00a0");
}

function renderer(refuse: (text: string) => void): MarkdownIt {
  return MarkdownIt({ html: true, typographer: true, linkify: false }).use(formulas, refuse);
}

// In a link the renderer has written the private characters as an address writes them.
function readable(attribute: string): string {
  return attribute.replaceAll("%EE%80%80", open).replaceAll("%EE%80%81", close);
}

function textsOf(document: Document, main: HTMLElement): Text[] {
  const walker = document.createTreeWalker(main, 4);
  const texts: Text[] = [];
  while (walker.nextNode()) texts.push(walker.currentNode as Text);
  return texts;
}

/** As pages do with what they compute; what is copied as it is written has its blanks untouched. */
function keepUnits(document: Document, main: HTMLElement): void {
  // A place is filled with a number where a unit follows.
  for (const text of textsOf(document, main).filter((each) => !each.parentElement?.closest("code, pre, math")))
    text.data = text.data
      .split(close)
      .map((piece, index) => (index === 0 ? unitsKept(piece) : unitsKept(`0${piece}`).slice(1)))
      .join(close);
}

function fillPlaces(document: Document, main: HTMLElement): void {
  for (const text of textsOf(document, main).filter(({ data }) => place.test(data))) {
    // With two groups, `split` gives prose and numbers by turns.
    const pieces = text.data.split(new RegExp(place, "g")).map((piece, index) => {
      if (index % 2 === 0) return document.createTextNode(piece);
      const span = document.createElement("span");
      span.className = "value";
      span.dataset.value = piece;
      return span;
    });
    const { parentElement } = text;
    text.replaceWith(...pieces.filter((piece) => piece.textContent !== "" || piece.nodeType === 1));
    unwrap(document, parentElement);
  }
}

// A paragraph that holds one value only shall hold a figure as well as a word.
function unwrap(document: Document, parent: Element | null): void {
  const only = parent?.childNodes.length === 1 ? parent.firstElementChild : null;
  if (parent?.tagName !== "P" || !only?.matches(".value")) return;
  const block = document.createElement("div");
  block.className = "value";
  block.dataset.value = (only as HTMLElement).dataset.value ?? "";
  parent.replaceWith(block);
}

function nameHeadings(main: HTMLElement): void {
  const taken = new Set<string>();
  for (const heading of main.querySelectorAll("h2, h3")) {
    const words = (heading.textContent ?? "").toLowerCase().match(/[a-z0-9]+/g) ?? ["part"];
    let id = words.join("-");
    while (taken.has(id)) id += "-more";
    taken.add(id);
    if (!heading.id && !place.test(id)) heading.id = id;
  }
}
