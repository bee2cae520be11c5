import { button, setAttributes } from "../../controls/index.ts";
import { historyKeys } from "../../kept/history/keys.ts";
import { shownTitle } from "./words.ts";
import type { Work } from "./work.ts";

export interface HistoryButtons {
  readonly buttons: readonly HTMLButtonElement[];
  /** Says on the buttons what each would do now. */
  show(): void;
  leave(): void;
}

/** Undo and redo: by button and by key, each saying what it would take back or make again. */
export function historyButtons({ document, line, say }: Work): HistoryButtons {
  const act = (wish: "undo" | "redo"): void => {
    const label = wish === "undo" ? line.undoLabel : line.redoLabel;
    if (label === null) {
      say(wish === "undo" ? "There is nothing to undo." : "There is nothing to redo.");
      return;
    }
    line[wish]();
    say(`${wish === "undo" ? "Undone" : "Done again"}: ${shownTitle(label)}.`);
  };
  const undo = button(document, { label: "Undo", press: () => act("undo") });
  const redo = button(document, { label: "Redo", press: () => act("redo") });
  const onKey = historyKeys({ undo: () => act("undo"), redo: () => act("redo") });
  const pressed = (event: KeyboardEvent): void => {
    // What lies behind a dialog is not to be changed unseen.
    if (document.querySelector("dialog[open]") === null) onKey(event);
  };
  document.addEventListener("keydown", pressed);
  return {
    buttons: [undo, redo],
    show() {
      mark(undo, "Undo", line.undoLabel, "Ctrl+Z");
      mark(redo, "Redo", line.redoLabel, "Ctrl+Shift+Z");
    },
    leave: () => document.removeEventListener("keydown", pressed),
  };
}

/** Not `disabled`: a button that goes dead under the focus would throw a keyboard back to the top of the page. */
function mark(element: HTMLElement, word: string, label: string | null, key: string): void {
  const what = label === null ? word : `${word}: ${shownTitle(label)}`;
  setAttributes(element, {
    "aria-label": what,
    "aria-disabled": label === null ? "true" : null,
    title: label === null ? `Nothing to ${word.toLowerCase()}` : `${what} (${key})`,
  });
}
