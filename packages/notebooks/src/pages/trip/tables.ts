import { formatQuantity, type TripStudy } from "@railfault/sim";
import { keepUnits } from "@railfault/sim/figures";
import { el, setText } from "../../controls/index.ts";
import { unbroken } from "../../show/words.ts";
import type { StudyNow } from "./studies.ts";

const volts = (value: number): string => `${value.toFixed(2)} V`;

type Cell = string | { readonly tone: string; readonly words: string };

interface TableAbout {
  readonly label: string;
  readonly heads: readonly string[];
  /** Columns of numbers, counted from 0. */
  readonly numbers: readonly number[];
}

/** A table that scrolls by itself where it is too wide; empty until something is put. */
function tableView(document: Document, { label, heads, numbers }: TableAbout) {
  const kind = (column: number) => (numbers.includes(column) ? { class: "number" } : {});
  const body = el(document, "tbody");
  const head = heads.map((text, column) => el(document, "th", { scope: "col", ...kind(column) }, text));
  const table = el(document, "table", {}, el(document, "thead", {}, el(document, "tr", {}, ...head)), body);
  const element = el(
    document,
    "div",
    { class: "scroll-x breaking", tabindex: 0, role: "region", "aria-label": label, hidden: true },
    table,
  );
  const written = (cell: Cell): HTMLElement | string =>
    typeof cell === "string"
      ? keepUnits(cell)
      : el(document, "span", { class: "state-tag", "data-tone": cell.tone }, cell.words);
  return {
    element,
    put(rows: readonly (readonly Cell[])[]): void {
      element.hidden = rows.length === 0;
      body.replaceChildren(
        ...rows.map((cells) =>
          el(
            document,
            "tr",
            {},
            ...cells.map((cell, column) =>
              column === 0
                ? el(document, "th", { scope: "row" }, written(cell))
                : el(document, "td", kind(column), written(cell)),
            ),
          ),
        ),
      );
    },
  };
}

/** Everything of a study that is told in rows. */
export function studyTables(document: Document) {
  const dividers = tableView(document, {
    label: "Dividers",
    heads: ["Resistors", "Series", "Current", "Trip point", "Off by", "Lands on, worst case", "Fits?"],
    numbers: [2, 3, 4, 5],
  });
  const landings = tableView(document, {
    label: "Where the trip point lands over temperature",
    heads: ["At", "Lowest", "Highest", "By root-sum-square"],
    numbers: [1, 2, 3],
  });
  const service = tableView(document, {
    label: "What normal service does",
    heads: ["What happens", "The protector senses", "Left to the lowest trip", "May last longer by", "To know"],
    numbers: [1, 2, 3],
  });
  const noDivider = el(
    document,
    "p",
    { class: "aside", hidden: true },
    "A zener has no divider: its trip point is what it is.",
  );
  return {
    dividers: el(document, "div", {}, dividers.element, noDivider),
    landings: landings.element,
    service: service.element,
    show({ answer }: StudyNow): void {
      const study = answer?.kind === "answered" ? answer.study : null;
      noDivider.hidden = study === null || study.dividers.length > 0;
      dividers.put(study === null ? [] : dividerRows(study));
      landings.put(
        study === null
          ? []
          : study.landings.map(({ temperature, low, high, rss }) => [
              unbroken(formatQuantity(temperature, "temperature")),
              volts(low),
              volts(high),
              `${volts(rss.low)} to ${volts(rss.high)}`,
            ]),
      );
      service.put(study === null ? [] : serviceRows(study));
    },
  };
}

function dividerRows({ dividers }: TripStudy): Cell[][] {
  return dividers.map(({ series, upper, lower, bias, tolerance, miss, fits, fitsRss }) => [
    `${formatQuantity(upper, "resistance")} over ${formatQuantity(lower, "resistance")}`,
    series,
    formatQuantity(bias, "current"),
    `${tolerance.nominal.toFixed(3)} V`,
    `${Math.round(Math.abs(miss) * 1e3)} mV`,
    `${volts(tolerance.low)} to ${volts(tolerance.high)}`,
    fits
      ? { tone: "safe", words: "fits" }
      : fitsRss
        ? { tone: "withstood", words: "by root-sum-square" }
        : { tone: "endangered", words: "does not" },
  ]);
}

function serviceRows({ nuisances }: TripStudy): Cell[][] {
  return nuisances.map(({ name, how, sensed, volts: left, timeLeft, remark }) => [
    name,
    sensed === null ? "–" : volts(sensed),
    left === null ? "–" : formatQuantity(left, "voltage"),
    sensed === null
      ? "–"
      : timeLeft === null
        ? "for ever"
        : timeLeft > 0
          ? formatQuantity(timeLeft, "time")
          : "it trips",
    `${how}${remark === "" ? "" : `; ${remark}`}`,
  ]);
}

/**
 * What was tried where no band exists.
 *
 * @param awaited where a table is what usually comes: its room is kept from the beginning
 */
export function changesView(document: Document, label: string, awaited = false) {
  const table = tableView(document, {
    label,
    heads: ["Change", "Cost", "Opens it?", "What it comes to"],
    numbers: [1],
  });
  const told = el(document, "p", { class: "aside", "aria-live": "polite" });
  const element = el(
    document,
    "div",
    { class: awaited ? "trip-changes awaited" : "trip-changes" },
    told,
    table.element,
  );
  return {
    element,
    show({ answer, busy }: StudyNow): void {
      element.setAttribute("aria-busy", String(busy !== null));
      const study = answer?.kind === "answered" ? answer.study : null;
      if (busy === null) element.classList.toggle("awaited", awaited && study !== null && !study.exists);
      table.put(
        (study?.changes ?? []).map(({ name, cost, opens, about }) => [
          name,
          String(cost),
          opens ? { tone: "safe", words: "yes" } : { tone: "none", words: "no" },
          about,
        ]),
      );
      setText(
        told,
        busy === "changes"
          ? "Trying what would open one …"
          : study === null || !study.exists
            ? ""
            : "There is a place for the trip point: nothing has to be changed.",
      );
    },
  };
}
