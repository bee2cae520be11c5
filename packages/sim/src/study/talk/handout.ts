import { faultFigure } from "../../report/figure/fault-figure.ts";
import { lineDiagram } from "../../report/figure/line/diagram.ts";
import { svgFile } from "../../report/figure/svg-file.ts";
import { figureData } from "../../report/figure-data.ts";
import { lineDiagramData } from "../../report/line-data.ts";
import type { Answered } from "../../report/run-scenario.ts";
import { handout } from "./handout-data.ts";
import { coloursOf, element, htmlTable, inEither, list } from "./html.ts";
import { WARNINGS } from "./outcome.ts";
import { cautionsBox, sheetPage } from "./sheets.ts";

/** What a telephone has beside the page's margin, CSS pixels. */
const NARROW = 360;

/**
 * A handout about one fault as a page that prints on one side of A4: question, line, picture, limits, what to do next, cautions, where the
 * values come from. One file, without a script, nothing fetched.
 *
 * @param result of `runScenario`, run with its waveforms
 * @param options the document to draw in
 * @throws RangeError for a run that did not get anywhere: it has no picture
 * @example writeFileSync("handout.html", handoutHtml(result, { document: new JSDOM("").window.document }))
 */
export function handoutHtml(result: Answered, { document }: { readonly document: Document }): string {
  const { run, verdict, parsed } = result;
  const told = handout(result);
  const wired = lineDiagramData(parsed, { title: "", subtitle: "" });
  const line = (width: number, height: number) =>
    svgFile(lineDiagram(wired, { document, width, height, id: `handout-line-${width}` }));
  const data = figureData(run, verdict);
  const picture = (width: number, height: number) =>
    svgFile(
      faultFigure(
        { ...data, title: "", subtitle: "", facts: data.facts ?? "" },
        { document, width, height, panels: ["voltage", "states"], id: `handout-fault-${width}` },
      ),
    );
  const body = [
    "<main>",
    element("p", "Handout: a fault on a 12 V line", 'class="kicker"'),
    element("h1", told.title),
    ...(told.question === "" ? [] : [element("p", told.question, 'class="lead"')]),
    cautionsBox(told.cautions),
    `<p class="lead"><strong>${element("span", told.headline)}</strong></p>`,
    ...(told.warnings.length === 0
      ? []
      : [`<section class="cautions warned">${element("h2", WARNINGS)}${list("ul", told.warnings)}</section>`]),
    `<figure>${inEither(line(900, 60), line(NARROW, 60))}</figure>`,
    `<figure>${inEither(picture(900, 250), picture(NARROW, 480))}</figure>`,
    '<div class="pair"><section>',
    element("h2", told.isPassed ? "The limits that were passed, and the nearest" : "The nearest limits"),
    told.limits.length === 0
      ? element("p", "Nothing in this run came near a limit.")
      : htmlTable(told.limits, ["limit of", "found", "limit", "headroom"]).replace("<table>", '<table class="limits">'),
    "</section><section>",
    element("h2", "Before the next use"),
    list("ol", told.steps),
    ...(told.further === null ? [] : [element("p", told.further, 'class="further"')]),
    "</section></div>",
    element("h2", "Where the values come from"),
    `<div class="small">${told.origins.map((each) => element("p", each)).join("")}</div>`,
    "</main>",
  ];
  return sheetPage(`Handout: ${told.title}`, body.join("\n"), coloursOf("light"));
}
