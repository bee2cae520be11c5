import { figureData, figureOfRun } from "@railfault/sim/figures";
import { el, setText } from "../../controls/index.ts";
import type { OpenedLine } from "../../line/open.ts";
import type { SchemeRun } from "../../line/runs.ts";
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
    if (newest !== null && newest !== shown) {
      shown = newest;
      verdict.show(newest.verdict);
      seen.show(figureData(newest.run, newest.verdict));
    }
    verdict.busy(status === "running");
    seen.busy(status === "running");
    // While a run is under way the mark stays as it was: it would flicker with each letter.
    if (status !== "running") {
      const old = status !== "answered";
      setText(belongs, old ? oldWords(newest !== null, message) : "Verdict and picture of the text as it stands");
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

function oldWords(hasPicture: boolean, message: string | null): string {
  const why = message === null ? "the text has problems and was not run" : `the run failed: ${message}`;
  return hasPicture ? `Verdict and picture belong to an earlier text; ${why}` : `There is no picture yet; ${why}`;
}
