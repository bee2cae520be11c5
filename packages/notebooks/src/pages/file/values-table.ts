import { describedPaths, describeValue, type ScenarioResult } from "@railfault/sim";
import { el, setText } from "../../controls/index.ts";

export interface ValuesTable {
  readonly element: HTMLElement;
  show(parsed: ScenarioResult): void;
}

const origins = { file: "the file", "part class": "a part class", default: "a default" } as const;

/** More rows than this come of a text that nobody wrote by hand. */
const MOST_ROWS = 1000;

/** Every value of a line with where it comes from, folded away; made only while it is open. */
export function valuesTable(): ValuesTable {
  const count = el(document, "span", { class: "count" });
  const rows = el(document, "tbody");
  const heads = ["Value", "stands at", "given by", "source", "mark"];
  const table = el(
    document,
    "table",
    { class: "values-table" },
    el(
      document,
      "thead",
      {},
      el(document, "tr", {}, ...heads.map((head) => el(document, "th", { scope: "col" }, head))),
    ),
    rows,
  );
  const scroll = el(
    document,
    "div",
    { class: "scroll-x", tabindex: 0, role: "region", "aria-label": "Every value and where it comes from" },
    table,
  );
  const summary = el(document, "summary", {}, "Every value and where it comes from", count);
  const element = el(document, "details", { class: "more" }, summary, scroll);
  let newest: ScenarioResult | null = null;
  let drawn: ScenarioResult | null = null;

  const draw = (): void => {
    if (newest === null) return;
    const paths = describedPaths(newest);
    setText(count, String(paths.length));
    if (!element.open || newest === drawn) return;
    drawn = newest;
    const parsed = newest;
    rows.replaceChildren(
      ...paths.slice(0, MOST_ROWS).flatMap((path) => {
        const value = describeValue(parsed, path);
        if (value === null) return [];
        const given = value.partClass ?? origins[value.origin];
        const cells = [value.text, given, value.source, value.mark];
        const head = el(document, "th", { scope: "row" }, value.label);
        return [el(document, "tr", {}, head, ...cells.map((cell) => el(document, "td", {}, cell)))];
      }),
    );
  };
  element.addEventListener("toggle", draw);
  return {
    element,
    show(parsed) {
      newest = parsed;
      draw();
    },
  };
}
