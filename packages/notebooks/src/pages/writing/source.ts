import file from "../../../pages/writing.html?raw";
import { el } from "../../controls/index.ts";

/** The lines before the first cell, which make a text file a page. */
export function pageHead(): HTMLElement {
  return listing(file.slice(0, file.indexOf("<script")), "How the file of this page begins");
}

/**
 * A cell of this very page as it stands in its file, with its tags.
 *
 * @throws RangeError when there is no such cell
 * @example display(cellSource(7));
 */
export function cellSource(id: number): HTMLElement {
  const lines = file.split("\n");
  const first = lines.findIndex((line) => line.trimStart().startsWith(`<script id="${id}" `));
  const length = lines.slice(first).findIndex((line) => line.trim() === "</script>");
  if (first < 0 || length < 0) throw new RangeError(`there is no cell ${id}`);
  return listing(lines.slice(first, first + length + 1).join("\n"), `Cell ${id} as it stands in the file`);
}

function listing(text: string, label: string): HTMLElement {
  const lines = text.trimEnd().split("\n");
  const indent = Math.min(...lines.filter((line) => line.trim() !== "").map((line) => line.search(/\S/)));
  const code = el(document, "code", {}, lines.map((line) => line.slice(indent)).join("\n"));
  return el(
    document,
    "figure",
    { class: "listing" },
    el(document, "figcaption", {}, label),
    el(document, "pre", { tabindex: 0, "aria-label": label }, code),
  );
}
