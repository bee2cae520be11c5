import {
  alignmentSentence,
  type EventRow,
  type Fit,
  fitCsv,
  fitHeadline,
  formatQuantity,
  measuredText,
} from "@railfault/sim";
import { type FitFigureData, fitData, fitFigure } from "@railfault/sim/figures";
import { el, setText } from "../../controls/index.ts";
import { figurePlace } from "../../show/index.ts";
import { sentenceList, tableView, withMinus } from "./tables.ts";

/** Rows of the table of events. */
const MOST_ROWS = 24;

/** A capture over a run: answer, curves and what is left between them, events one by one. */
export function laidView(label: string) {
  const tag = el(document, "strong", { class: "verdict-tag" }, "…");
  const headline = el(document, "p", { class: "verdict-headline" }, "");
  const line = el(document, "div", { class: "verdict-line", role: "status" }, tag, headline);
  const answer = el(
    document,
    "section",
    { class: "verdict capture-laid", "data-tone": "none", "aria-label": label },
    line,
  );
  const place = el(document, "p", { class: "aside" });
  const misfits = sentenceList("What the run does otherwise");
  const events = tableView(`${label}: events`, ["Event", "Channel", "Captured", "Simulated", "Difference"], false);
  events.element.hidden = true;
  const more = el(document, "p", { class: "aside" });
  let shown: Fit | null = null;
  const picture = figurePlace<FitFigureData>(document, {
    label: `${label}: curves`,
    title: ({ title }) => title,
    draw: fitFigure,
    csv: () => (shown === null ? [] : fitCsv(shown)),
    reserve: (width) => (width < 450 ? 640 : 560),
  });
  return {
    answer,
    rest: [place, misfits.element, picture.element, events.element, more],
    busy(running: boolean): void {
      answer.setAttribute("aria-busy", String(running));
      picture.busy(running);
    },
    /** Nothing to show: why. */
    none(words: string, why: string): void {
      answer.dataset.tone = "none";
      setText(tag, words);
      setText(headline, why);
      if (shown === null) picture.element.hidden = true;
    },
    show(fit: Fit): void {
      shown = fit;
      const { misfits: sentences, isAnother, isQuiet, leftOut } = fit;
      const alike = sentences.length === 0;
      answer.dataset.tone = isAnother ? "endangered" : alike ? (isQuiet ? "none" : "safe") : "withstood";
      setText(tag, isAnother ? "Another line" : isQuiet ? "No event" : alike ? "They agree" : "They differ");
      setText(headline, fitHeadline(fit));
      const without =
        leftOut.length === 0 ? "" : ` Left out, for nothing in the line is called so: ${leftOut.join(", ")}.`;
      setText(place, `${withMinus(alignmentSentence(fit))}${without}`);
      misfits.put(sentences);
      picture.element.hidden = false;
      picture.show(fitData(fit));
      events.put(fit.events.slice(0, MOST_ROWS).map(rowOf));
      const left = fit.events.length - MOST_ROWS;
      setText(more, left > 0 ? `${left} more events are in the table that “Save” below the picture gives.` : "");
    },
    leave: picture.leave,
  };
}

function rowOf({ channel, what, captured, simulated, difference }: EventRow): [string, ...string[]] {
  const at = (time: number): string => formatQuantity(time, "time", { digits: 5 });
  return [
    what,
    channel,
    measuredText(captured, "time"),
    simulated === null ? "not in the run" : at(simulated),
    difference === null ? "–" : measuredText({ value: difference, plusMinus: captured.plusMinus }, "time"),
  ];
}
