// A notebook put into our template: head, navigation, one container a cell, and each cell's text for those who ask for it.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { JSDOM } from "jsdom";
import type { Notebook, NotebookCell } from "./notebook.ts";
import { baseFolder } from "./paths.ts";

/** Where the template stands. */
export const templateFile = join(baseFolder, "template.html");

/** What a page is made of. */
export interface FrameParts {
  readonly notebook: Notebook;
  /** All notebooks, in the order of the navigation. */
  readonly notebooks: readonly Notebook[];
  /** Rendered prose by cell. */
  readonly prose: ReadonlyMap<number, string>;
  readonly policy: string;
  readonly styles: readonly string[];
  /** The module of the page's cells. */
  readonly script: string;
  /** The cells' texts are packed, for few ask for them: as base64 of gzip of a JSON text, by the cells' numbers. */
  readonly packed: boolean;
}

/** The page as HTML. */
export function framePage({ notebook, notebooks, prose, policy, styles, script, packed }: FrameParts): string {
  // Its indentation is for who reads the template; in each page it would be carried once more.
  const dom = new JSDOM(readFileSync(templateFile, "utf8").replace(/^ +/gm, ""));
  const { document } = dom.window;
  const find = (selector: string): HTMLElement => {
    const found = document.querySelector<HTMLElement>(selector);
    if (!found) throw new Error(`${templateFile}: no ${selector}`);
    return found;
  };
  const add = (parent: Element, tag: string, attributes: Readonly<Record<string, string>>): HTMLElement => {
    const element = document.createElement(tag);
    for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
    parent.append(element);
    return element;
  };
  find('meta[http-equiv="Content-Security-Policy"]').setAttribute("content", policy);
  find('meta[name="description"]').setAttribute("content", notebook.description);
  find("title").textContent =
    notebook.name === "index" ? `Railfault: ${notebook.title}` : `${notebook.title} · Railfault`;
  for (const href of styles) add(document.head, "link", { rel: "stylesheet", href });
  add(document.head, "script", { type: "module", src: script });
  document.documentElement.dataset.page = notebook.name;
  const list = find("nav");
  for (const { name, short } of notebooks) {
    const link = add(list, "a", { href: `./${name}.html` });
    link.textContent = short;
    if (name === notebook.name) link.setAttribute("aria-current", "page");
  }
  find("h1").textContent = notebook.heading;
  const main = find("main");
  const codes: Record<number, string> = {};
  for (const cell of notebook.cells) {
    const code = addCell(cell, prose.get(cell.id) ?? "", (tag, attributes) => add(main, tag, attributes));
    if (code === null) continue;
    if (packed) codes[cell.id] = cell.text;
    else code.textContent = cell.text;
  }
  if (packed) main.dataset.codes = gzipSync(JSON.stringify(codes), { level: 9 }).toString("base64");
  // The first page is a list of links itself.
  if (notebook.name !== "index") listParts(document, main);
  // In text a ">" stands for itself, and the cells' code is full of arrows.
  return dom.serialize().replaceAll("&gt;", ">");
}

type Add = (tag: string, attributes: Readonly<Record<string, string>>) => HTMLElement;

/** Gives the place of its code; null for prose without a value or a formula, of which everything stands on the page already. */
function addCell(cell: NotebookCell, html: string, add: Add): HTMLElement | null {
  const isShown = cell.kind !== "md" || cell.text.includes("$");
  const code = isShown ? add("pre", { "data-code": String(cell.id), hidden: "" }) : null;
  const classes = ["cell", cell.className].filter((name) => name !== "").join(" ");
  const container = add("div", { class: classes, id: `cell-${cell.id}` });
  if (cell.height !== null) container.style.minHeight = `${cell.height}px`;
  container.innerHTML = html;
  return code;
}

/** Fewer parts than these are found without a list. */
const WORTH_A_LIST = 3;

/** Below the lead, where it leads to: a page may be many screens long on a phone. */
function listParts(document: Document, main: HTMLElement): void {
  const parts = [...main.querySelectorAll<HTMLElement>("h2[id]:not(.unseen)")];
  const lead = main.querySelector(".cell.lead");
  if (lead === null || parts.length < WORTH_A_LIST) return;
  const nav = document.createElement("nav");
  nav.className = "on-this-page";
  nav.setAttribute("aria-label", "On this page");
  const list = document.createElement("ul");
  for (const { id, textContent } of parts) {
    const link = document.createElement("a");
    link.href = `#${id}`;
    link.textContent = textContent;
    const item = document.createElement("li");
    item.append(link);
    list.append(item);
  }
  nav.append(list);
  lead.after(nav);
}
