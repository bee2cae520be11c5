import { type Finding, formatQuantity } from "@railfault/sim";
import { el } from "../controls/index.ts";
import { headroomWords, tagOfFinding } from "./tags.ts";

/** Every watched limit with what was found, grouped by part. Scrolls within itself where the page is narrow. */
export function headroomTable(document: Document, findings: readonly Finding[]): HTMLElement {
  const body = el(document, "tbody");
  let part = "";
  for (const finding of findings) {
    if (finding.subject !== part) {
      part = finding.subject;
      body.append(el(document, "tr", {}, el(document, "th", { scope: "rowgroup", colspan: 5 }, part)));
    }
    body.append(row(document, finding));
  }
  const number = (title: string) => el(document, "th", { scope: "col", class: "number" }, title);
  const head = el(
    document,
    "tr",
    {},
    el(document, "th", { scope: "col" }, "Limit"),
    number("found"),
    number("rating"),
    number("headroom"),
    el(document, "th", { scope: "col" }, "how it ended"),
  );
  const note = "Headroom is the rating over what was found; temperatures count as rises above ambient.";
  const table = el(document, "table", {}, el(document, "caption", {}, note), el(document, "thead", {}, head), body);
  return el(document, "div", { class: "scroll-x", tabindex: 0, role: "group", "aria-label": "Headroom" }, table);
}

function row(document: Document, finding: Finding): HTMLElement {
  const { quantity, dimension, rating, found, headroom } = finding;
  const { tone, words } = tagOfFinding(finding);
  const number = (text: string) => el(document, "td", { class: "number" }, text);
  return el(
    document,
    "tr",
    {},
    el(document, "th", { scope: "row" }, quantity),
    number(formatQuantity(found, dimension)),
    number(rating === null ? "–" : formatQuantity(rating, dimension)),
    number(headroomWords(headroom)),
    el(document, "td", {}, el(document, "span", { class: "state-tag", "data-tone": tone }, words)),
  );
}
