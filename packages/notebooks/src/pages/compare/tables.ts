import {
  COMPARE_HEADINGS,
  type CompareCells,
  type CompareRow,
  type Comparison,
  compareCells,
  comparisonCsv,
  comparisonMarkdown,
} from "@railfault/sim";
import { keepUnits } from "@railfault/sim/figures";
import { button, el } from "../../controls/index.ts";
import { fileName, saveFile } from "../../show/index.ts";

type Key = keyof CompareCells;

const FAULT: readonly Key[] = ["name", "load", "peak", "above", "fuse", "trips", "scr"];
const AFTER: readonly Key[] = ["name", "replaced", "comesBack", "risk"];
const SERVICE: readonly Key[] = ["name", "receive", "transmit"];

function toneOf(row: CompareRow): string {
  if (row.kind === "no verdict") return "none";
  if (row.grade === "beyond") return "endangered";
  if (row.tooClose) return "close";
  return row.grade === "inside" && row.hazard === "none" ? "safe" : "withstood";
}

function table(label: string, keys: readonly Key[]) {
  const body = el(document, "tbody");
  const heads = keys.map((key) => el(document, "th", { scope: "col" }, COMPARE_HEADINGS[key]));
  const element = el(
    document,
    "div",
    { class: "scroll-x compare-table", tabindex: 0, role: "region", "aria-label": label },
    el(document, "table", {}, el(document, "thead", {}, el(document, "tr", {}, ...heads)), body),
  );
  const cell = (row: CompareRow, cells: CompareCells, key: Key): HTMLElement => {
    if (key === "name") return el(document, "th", { scope: "row" }, cells.name);
    if (key !== "load") return el(document, "td", {}, keepUnits(cells[key]));
    return el(document, "td", {}, el(document, "span", { class: "state-tag", "data-tone": toneOf(row) }, cells.load));
  };
  return {
    element,
    put(rows: readonly CompareRow[]): void {
      body.replaceChildren(
        ...rows.map((row) => {
          const cells = compareCells(row);
          return el(document, "tr", {}, ...keys.map((key) => cell(row, cells, key)));
        }),
      );
    },
  };
}

/** The comparison in rows: what the fault did, what comes after it, and what each scheme takes every day. */
export function compareTables() {
  const fault = table("The same fault", FAULT);
  const after = table("Afterwards", AFTER);
  const service = table("In normal service", SERVICE);
  service.element.classList.add("in-service");
  let shown: Comparison | null = null;
  const save = (label: string, ending: "csv" | "md", type: string, text: (of: Comparison) => BlobPart[]) =>
    button(document, {
      label,
      press: () => {
        if (shown !== null)
          saveFile(document, { name: fileName(shown.title, ending), blob: new Blob(text(shown), { type }) });
      },
    });
  const saving = el(
    document,
    "div",
    { class: "scheme-acts" },
    save("Save table as CSV", "csv", "text/csv", (of) => [...comparisonCsv(of)]),
    save("Save table as Markdown", "md", "text/markdown", (of) => [comparisonMarkdown(of)]),
  );
  return {
    fault: el(document, "div", { class: "compare-fault" }, fault.element, saving),
    after: after.element,
    service: service.element,
    show(comparison: Comparison, rows: readonly CompareRow[]): void {
      shown = { ...comparison, rows };
      for (const each of [fault, after, service]) each.put(rows);
    },
  };
}
