import { describeValue } from "@railfault/sim";
import { el } from "../../controls/index.ts";
import type { LineNow } from "../line.ts";
import { pathWords } from "./changes-list.ts";
import { shownTitle } from "./words.ts";

/** What paper says in place of the controls: which line was computed, and what was changed in it. */
export function printedLine(document: Document) {
  const head = el(document, "p", { class: "printed-head" });
  const rows = el(document, "tbody");
  const heads = ["changed", "value", "was"].map((each) => el(document, "th", { scope: "col" }, each));
  const table = el(document, "table", {}, el(document, "thead", {}, el(document, "tr", {}, ...heads)), rows);
  const element = el(document, "div", { class: "printed-line" }, head, table);
  let shown: LineNow["state"]["changes"] | null = null;
  return {
    element,
    show(now: LineNow, called: string): void {
      const { changes } = now.state;
      const none = changes.length === 0 ? "; nothing was changed in it" : "";
      head.replaceChildren("The line as computed: ", el(document, "bdi", {}, called), `${none}.`);
      table.hidden = changes.length === 0;
      if (shown === changes) return;
      shown = changes;
      rows.replaceChildren(
        ...changes.map(([path, value]) => {
          const before = describeValue(now.original, path)?.text ?? null;
          const cells = [value === null ? "taken out" : shownTitle(value), before === null ? "–" : shownTitle(before)];
          const name = el(document, "th", { scope: "row" }, pathWords(path));
          return el(document, "tr", {}, name, ...cells.map((cell) => el(document, "td", {}, cell)));
        }),
      );
    },
  };
}
