import { el, unitsKept } from "../controls/index.ts";

export interface StatusLine {
  readonly element: HTMLElement;
  /** Says what has just been done; a screen reader reads it out. It stays for a while, long texts longer. */
  say(message: string): void;
}

/**
 * One line at the foot of the window.
 *
 * @example const status = statusLine(document); document.body.append(status.element); status.say("Saved as “hut”.");
 */
export function statusLine(document: Document): StatusLine {
  const line = el(document, "p");
  const element = el(document, "div", { class: "status-line", role: "status", "aria-live": "polite" }, line);
  let timer: ReturnType<typeof setTimeout> | undefined;
  return {
    element,
    say(message) {
      clearTimeout(timer);
      line.textContent = unitsKept(message);
      timer = setTimeout(
        () => {
          line.textContent = "";
        },
        3000 + 60 * message.length,
      );
    },
  };
}
