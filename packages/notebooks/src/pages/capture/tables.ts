import { el } from "../../controls/index.ts";

export type Cell = string | { readonly tone: string; readonly words: string };

/** A table that is filled anew; a narrow window pushes it sideways. */
export function tableView(label: string, heads: readonly string[]) {
  const body = el(document, "tbody");
  const row = heads.map((head) => el(document, "th", { scope: "col" }, head));
  const element = el(
    document,
    "div",
    { class: "scroll-x capture-table", tabindex: 0, role: "region", "aria-label": label },
    el(document, "table", {}, el(document, "thead", {}, el(document, "tr", {}, ...row)), body),
  );
  const cellOf = (cell: Cell): HTMLElement =>
    typeof cell === "string"
      ? el(document, "td", {}, cell.replace(/^-(?=\d)/, "−"))
      : el(document, "td", {}, el(document, "span", { class: "state-tag", "data-tone": cell.tone }, cell.words));
  return {
    element,
    /** The first cell of a row names it. */
    put(rows: readonly (readonly [string, ...Cell[]])[]): void {
      element.hidden = rows.length === 0;
      body.replaceChildren(
        ...rows.map(([name, ...cells]) =>
          el(document, "tr", {}, el(document, "th", { scope: "row" }, name), ...cells.map(cellOf)),
        ),
      );
    },
  };
}

/** Sentences as a list; hidden while there is none. */
export function sentenceList(heading: string) {
  const list = el(document, "ul");
  const element = el(
    document,
    "section",
    { class: "capture-sentences", hidden: true },
    el(document, "h3", {}, heading),
    list,
  );
  return {
    element,
    put(sentences: readonly string[]): void {
      element.hidden = sentences.length === 0;
      list.replaceChildren(...sentences.map((sentence) => el(document, "li", {}, sentence)));
    },
  };
}
