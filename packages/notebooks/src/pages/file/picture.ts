import type { Issue } from "@railfault/sim";
import { figureData, figureOfRun } from "@railfault/sim/figures";
import { el, setText } from "../../controls/index.ts";
import type { LineNow } from "../../line/line.ts";
import type { OpenedLine } from "../../line/open.ts";
import type { SchemeRun } from "../../line/runs.ts";
import { shippedLine } from "../../line/shipped.ts";
import type { Answer } from "../../run/protocol.ts";
import { faultView, progressView, verdictView } from "../../show/index.ts";

export interface FilePicture {
  /** The verdict on the newest text that could be run. */
  readonly verdict: HTMLElement;
  /** The picture, with which text it belongs to. */
  readonly element: HTMLElement;
  leave(): void;
}

/** Verdict and picture of the text; the last good ones stay, and say so, while the text has problems. */
export function filePicture(opened: OpenedLine): FilePicture {
  const verdict = verdictView(document, { parts: "answer" });
  const belongs = el(document, "p", { class: "belongs", role: "status" });
  const progress = progressView(document, { stop: () => opened.stop("line") });
  let shown: Answer | null = null;
  /** Of which line that is: another one's answer is none of a file that was opened and cannot be run. */
  let shownOf = "";
  verdict.show(null);
  const seen = faultView(document, {
    label: "What the radio saw",
    closeUp: false,
    csv: () => {
      const figure = shown === null ? null : figureOfRun("fault", shown);
      return figure === null || "missing" in figure ? [] : figure.csv();
    },
  });
  const figure = el(document, "div", { class: "file-figure" }, seen.element);
  const answer = el(document, "div", { class: "file-verdict" }, belongs, verdict.element);

  const show = ({ status, answer: newest, message, progress: reached }: SchemeRun): void => {
    const called = calledIn(opened.line.now);
    if (newest !== null && newest !== shown) {
      shown = newest;
      verdict.show(newest.verdict);
      seen.show(figureData(newest.run, newest.verdict));
    }
    if (status === "answered") shownOf = called;
    // Without a run there is nothing to be shown, and no empty frame for it.
    const hasOwn = newest !== null && shownOf === called;
    const nothing = !hasOwn && status !== "running";
    verdict.element.hidden = nothing;
    figure.hidden = nothing;
    verdict.busy(status === "running");
    seen.busy(status === "running");
    // While a run is under way the mark stays as it was: it would flicker with each letter.
    if (status !== "running") {
      const old = status !== "answered";
      setText(
        belongs,
        old ? oldWords(hasOwn, message, opened.line.now.parsed.issues) : "Verdict and picture of the text as it stands",
      );
      for (const part of [answer, figure]) part.toggleAttribute("data-old", old);
    }
    if (status === "running" && reached !== null) progress.show(reached.time, reached.end);
    else if (status !== "running") progress.done();
  };
  const end = opened.runs((runs) => {
    const run = runs.get("line");
    if (run !== undefined) show(run);
  });
  return {
    verdict: answer,
    element: el(document, "div", { class: "file-picture" }, figure, progress.element),
    leave() {
      end();
      seen.leave();
    },
  };
}

/** What a line is called, whether it is as it comes with the pages or was written in. */
function calledIn({ state: { line } }: LineNow): string {
  return (line.kind === "shipped" && shippedLine(line.name).title) || line.name;
}

function oldWords(hasPicture: boolean, message: string | null, issues: readonly Issue[]): string {
  const stands = hasPicture ? "verdict and picture belong to an earlier text." : "there is no verdict on it.";
  if (message !== null) return `The run failed; ${stands} ${message}`;
  const errors = issues.filter(({ severity }) => severity === "error");
  if (errors.length === 0) return `The text was not run; ${stands}`;
  const more = errors.length > 1 ? ` ${errors.length - 1} more below.` : "";
  return `The text was not run; ${stands} ${firstWords(errors[0])}${more}`;
}

/** Of a long value or a long list of names only the beginning is said here: the list of problems has it whole. */
const LONGEST = 120;

/** Without a last word that was cut; of one word that is longer than all room, its beginning. */
function wholeWords(text: string): string {
  const blank = text.lastIndexOf(" ");
  return blank < 0 ? text : text.slice(0, blank).replace(/[\s,;]$/, "");
}

/** A problem as a sentence or two: place, what is wrong, received, what helps, allowed. */
function firstWords({ position, message, received, allowed, hint }: Issue): string {
  const cut = (text: string): string => (text.length > LONGEST ? `${wholeWords(text.slice(0, LONGEST))} …` : text);
  const ended = (text: string): string => (/[….?]$/.test(text) ? text : `${text}.`);
  const place = position === null || message.startsWith("Line ") ? "" : `Line ${position.line}: `;
  const parts = [`${place}${cut(message)}`];
  if (received !== null) parts.push(ended(`Received: ${cut(received)}`));
  if (hint !== null) parts.push(ended(`What helps: ${cut(hint)}`));
  if (allowed !== null) parts.push(ended(`Allowed: ${cut(allowed)}`));
  return parts.join(" ");
}
