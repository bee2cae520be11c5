import { faultFigure, figureData, figureOfRun, type WaveformData } from "@railfault/sim/figures";
import { el, setText } from "../../controls/index.ts";
import { shippedLine } from "../../line/shipped.ts";
import type { Answer } from "../../run/protocol.ts";
import { createRunner } from "../../run/runner.ts";
import { figurePlace, verdictView } from "../../show/index.ts";

/** A run with how long it took. */
export interface TimedAnswer extends Answer {
  /** From asking for it until it was here, s. */
  readonly took: number;
}

export interface Demo {
  readonly verdict: HTMLElement;
  readonly figure: HTMLElement;
  /** For prose that tells of the run; rejected where there is none. */
  readonly answer: Promise<TimedAnswer>;
  leave(): void;
}

/** What such a figure takes, so that nothing moves when it comes; on a phone its panels stand further apart. CSS pixels. */
const HEIGHTS = { narrow: 890, wide: 562 } as const;
const NARROW = 620;

/**
 * One of the lines that come with the pages, run at once: its verdict and what the radio saw.
 *
 * @throws RangeError when there is no such line
 * @example const demo = demoView("01-shorted-pass-transistor"); display(demo.verdict);
 */
export function demoView(name: string): Demo {
  const { title, text } = shippedLine(name);
  const runner = createRunner({ workers: 1 });
  const verdict = verdictView(document, { parts: "answer" });
  const failed = el(document, "p", { class: "figure-failure", role: "alert", hidden: true });
  let answered: Answer | null = null;
  const place = figurePlace<WaveformData>(document, {
    label: "What the radio saw",
    draw: (data, drawing) => faultFigure(data, drawing),
    reserve: (width) => (width < NARROW ? HEIGHTS.narrow : HEIGHTS.wide),
    title: (data) => data.title,
    csv: () => {
      const figure = answered === null ? null : figureOfRun("fault", answered);
      return figure === null || "missing" in figure ? [] : figure.csv();
    },
  });
  verdict.show(null);
  verdict.busy(true);
  const asked = performance.now();
  const answer = new Promise<TimedAnswer>((resolve, reject) => {
    const wrong = (message: string): void => {
      setText(failed, message);
      failed.hidden = false;
      verdict.busy(false);
      reject(new Error(message));
    };
    runner.run(
      "demo",
      { text, file: `${title}.yaml` },
      {
        answer: (run) => {
          answered = run;
          verdict.show(run.verdict);
          verdict.busy(false);
          place.show(figureData(run.run, run.verdict));
          resolve({ ...run, took: (performance.now() - asked) / 1000 });
        },
        refused: (issues) => wrong(issues.map(({ message }) => message).join(" ")),
        failed: wrong,
      },
    );
  });
  return {
    verdict: el(document, "div", {}, verdict.element, failed),
    figure: place.element,
    answer,
    leave() {
      place.leave();
      runner.dispose();
    },
  };
}
