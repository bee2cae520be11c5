import { el } from "../../controls/index.ts";
import { shippedLines } from "../shipped.ts";
import { openShipped } from "./opening.ts";
import type { Work } from "./work.ts";

export interface ShippedList {
  readonly element: HTMLElement;
  /** Shows only what holds these words; gives how many are shown. */
  filter(words: (text: string) => boolean): number;
}

/** The lines that come with the pages, each with its question. */
export function shippedList(work: Work, opened: () => void): ShippedList {
  const { document, line } = work;
  const choice = line.now.state.line;
  const items = shippedLines.map(({ name, title, question }) => {
    const open = el(
      document,
      "button",
      { type: "button", class: "line-open" },
      el(document, "span", { class: "line-title" }, title),
      el(document, "span", { class: "line-note" }, question),
    );
    if (choice.kind === "shipped" && choice.name === name) open.setAttribute("aria-current", "true");
    open.addEventListener("click", () => {
      openShipped(work, name);
      opened();
    });
    return { text: `${title} ${question}`, item: el(document, "li", {}, open) };
  });
  const element = el(
    document,
    "section",
    {},
    el(document, "h3", {}, "Lines that come with the pages"),
    el(document, "ul", { class: "line-list" }, ...items.map(({ item }) => item)),
  );
  return {
    element,
    filter(words) {
      for (const { text, item } of items) item.hidden = !words(text);
      const count = items.filter(({ item }) => !item.hidden).length;
      element.hidden = count === 0;
      return count;
    },
  };
}
