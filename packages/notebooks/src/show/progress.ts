import { formatQuantity } from "@railfault/sim";
import { button, el, setText } from "../controls/index.ts";

export interface ProgressView {
  readonly element: HTMLElement;
  /** Times of the run, s. Shown only once a run lasts longer than a moment. */
  show(time: number, end: number): void;
  /** The run is over, or was stopped; its place is kept. */
  done(): void;
}

/** Runs shorter than this show nothing: a bar that flickers tells nobody anything, ms. */
const patience = 250;

/**
 * How far a run has come, with a button that ends it.
 *
 * @example const progress = progressView(document, { stop: () => runner.stop() }); progress.show(1.2, 10);
 */
export function progressView(document: Document, options: { readonly stop: () => void }): ProgressView {
  const bar = el(document, "progress", { max: 1, value: 0, "aria-label": "Run" });
  const words = el(document, "span", { class: "progress-words" });
  const stop = button(document, { label: "Stop", press: options.stop });
  const element = el(document, "div", { class: "progress", "data-idle": true }, bar, words, stop);
  let timer: ReturnType<typeof setTimeout> | undefined;
  return {
    element,
    show(time, end) {
      bar.value = end > 0 ? Math.min(1, time / end) : 0;
      setText(words, `${formatQuantity(time, "time")} of ${formatQuantity(end, "time")} computed`);
      timer ??= setTimeout(() => element.removeAttribute("data-idle"), patience);
    },
    done() {
      clearTimeout(timer);
      timer = undefined;
      element.setAttribute("data-idle", "");
    },
  };
}
