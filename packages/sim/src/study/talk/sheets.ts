import { COLOURS, element, escaped, htmlTable, list, offlinePolicy, SHEET_STYLE, wholePage } from "./html.ts";
import { readingHeadings, readingRows, sourceLine } from "./text.ts";
import type { BenchCard, ResetSheet } from "./types.ts";

/** The cautions as they stand on top of every sheet. */
export const cautionsBox = (cautions: readonly string[]): string =>
  `<section class="cautions">${element("h2", "Cautions")}${list("ul", cautions)}</section>`;

/** A sheet as a page of its own, in the colours that the browser prefers; one with pictures is light, as they are. */
export function sheetPage(title: string, body: string, colours: string = COLOURS): string {
  return wholePage({ title, style: `${colours}\n${SHEET_STYLE}`, body, policy: offlinePolicy(null), kind: "sheet" });
}

/** Head of a column for a pen. */
const MEASURED = "measured";

/** The same row with a column after each of its figures. */
const beside =
  (text: string) =>
  ([where, ...cells]: readonly string[]): readonly string[] => [where, ...cells.flatMap((cell) => [cell, text])];

/** A table whose empty cells are wide enough for a pen; on a telephone they go. */
function tableToWriteIn(rows: readonly (readonly string[])[], head: readonly string[]): string {
  return htmlTable(rows, head)
    .replace("<table>", '<table class="bench">')
    .replaceAll("<td></td>", '<td class="pen"></td>')
    .replaceAll(`<th scope="col">${MEASURED}</th>`, `<th scope="col" class="pen">${MEASURED}</th>`);
}

/**
 * A bench test card as a page that prints on one side of A4: one file, without a script, nothing fetched.
 *
 * @example writeFileSync("card.html", cardHtml(card))
 */
export function cardHtml(card: BenchCard): string {
  const title = `Bench test card: ${card.title}`;
  const checks = card.checks.map(({ what, pass, fail, basis }) => [what, `${pass} (${basis})`, fail, ""]);
  const body = [
    '<main class="bench-card">',
    element("p", "Bench test card", 'class="kicker"'),
    element("h1", card.title),
    element("p", `Tried: ${card.protector}.`, 'class="lead"'),
    cautionsBox(card.cautions),
    element("h2", "The bench source and its current limit"),
    `<p><strong>${escaped(sourceLine(card))}</strong></p>`,
    list("ul", card.source.why),
    element("h2", "In this order"),
    list("ol", card.steps),
    element("h2", "What the meters show, by simulation of this very line"),
    tableToWriteIn(readingRows(card, false).map(beside("")), beside(MEASURED)(readingHeadings(card))).replace(
      "bench",
      "bench readings",
    ),
    element("h2", "Pass and fail"),
    tableToWriteIn(checks, ["Look at", "pass (limit from)", "fail", MEASURED]),
    element("h2", "What stands behind it"),
    element("p", [...card.strain, ...card.assumptions].join(" "), 'class="small"'),
    htmlTable([["Date", "", "Temperature", "", "Name", ""]], null).replace("<table>", '<table class="write">'),
    "</main>",
  ];
  return sheetPage(title, body.join("\n"));
}

/**
 * A reset sheet as a page that prints on one side of A4: one file, without a script, nothing fetched.
 *
 * @example writeFileSync("reset.html", resetHtml(resetSheet(result)))
 */
export function resetHtml(sheet: ResetSheet): string {
  const states = sheet.states.map(
    ({ part, state, tone }) =>
      `<tr>${element("th", part, 'scope="row"')}<td><span class="tag ${tone}">${escaped(state)}</span></td></tr>`,
  );
  const body = [
    "<main>",
    element("p", "Reset sheet", 'class="kicker"'),
    element("h1", sheet.title),
    element("p", sheet.headline, 'class="lead"'),
    cautionsBox(sheet.cautions),
    element("h2", `How everything stands, ${sheet.at}`),
    `<table class="states"><tbody>${states.join("")}</tbody></table>`,
    ...(sheet.goesOn.length === 0 ? [] : [element("h2", "What still goes on"), list("ul", sheet.goesOn)]),
    element("h2", "In this order"),
    list("ol", sheet.steps),
    element("h2", "What was used up"),
    list("ul", sheet.usedUp.length === 0 ? ["Nothing."] : sheet.usedUp),
    element(
      "p",
      "The states are those of the model at the end of its run. Before you touch anything, measure: what is drawn open may be live.",
      'class="small"',
    ),
    "</main>",
  ];
  return sheetPage(`Reset sheet: ${sheet.title}`, body.join("\n"));
}
