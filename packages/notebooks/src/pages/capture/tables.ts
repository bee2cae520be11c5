import { el } from "../../controls/index.ts";

export type Cell = string | { readonly tone: string; readonly words: string };

/** A minus as it is printed. */
export const withMinus = (text: string): string => text.replace(/(?<!\w)-(?=\d)/g, "−");

/**
 * A table that is filled anew. Where it is too wide, one of few rows stands as facts below each row's name, a long one is pushed sideways.
 *
 * @param few whether it has few rows
 */
export function tableView(label: string, heads: readonly string[], few = true) {
  const body = el(document, "tbody");
  const row = heads.map((head) => el(document, "th", { scope: "col" }, head));
  const element = el(
    document,
    "div",
    { class: `scroll-x capture-table${few ? " few" : ""}`, tabindex: 0, role: "region", "aria-label": label },
    el(document, "table", {}, el(document, "thead", {}, el(document, "tr", {}, ...row)), body),
  );
  const cellOf = (cell: Cell, column: number): HTMLElement =>
    el(
      document,
      "td",
      { "data-head": heads[column + 1] },
      ...(typeof cell === "string"
        ? piecesOf(cell)
        : [el(document, "span", { class: "state-tag", "data-tone": cell.tone }, cell.words)]),
    );
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

/** A measured value is not torn apart where a line ends. */
const piecesOf = (cell: string): (HTMLElement | string)[] =>
  withMinus(cell)
    .split(/((?<![\d.−])−?[\d.]+ [^\s±]+ ± [\d.]+ [^\s,;]+)/)
    .map((piece, i) => (i % 2 === 1 ? el(document, "span", { class: "whole" }, piece) : piece));

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
