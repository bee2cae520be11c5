import { button, el, setText } from "../../controls/index.ts";
import type { CaptureProgress } from "../../run/capture-thread.ts";

/** A moment is not told: a bar that flickers tells nobody anything, ms. */
const PATIENCE = 300;

/** How far the thread is, with a button that ends it; its place is kept. */
export function captureProgress(name: string, stop: () => void) {
  const bar = el(document, "progress", { max: 1, value: 0, "aria-label": name });
  const words = el(document, "span", { class: "progress-words" });
  const end = button(document, { label: "Cancel", name: `Cancel: ${name}`, press: stop });
  const element = el(document, "div", { class: "progress", "data-idle": true }, bar, words, end);
  let timer: ReturnType<typeof setTimeout> | undefined;
  return {
    element,
    begin(): void {
      clearTimeout(timer);
      bar.value = 0;
      setText(words, "");
      timer = setTimeout(() => element.removeAttribute("data-idle"), PATIENCE);
    },
    show({ share, words: text }: CaptureProgress): void {
      if (share === null) bar.removeAttribute("value");
      else bar.value = share;
      setText(words, text);
    },
    done(): void {
      clearTimeout(timer);
      element.setAttribute("data-idle", "");
    },
  };
}
