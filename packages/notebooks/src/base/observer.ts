// What happens when a cell has a value, waits for one, or fails.
import type { DefineState, Definition } from "@observablehq/notebook-kit/runtime";
import { inspect, inspectError } from "./inspect.ts";

type State = DefineState & { root: HTMLElement };

/** Watches a cell of code: shows its value where it is an expression, and its error. */
export function codeObserver(state: State, { autodisplay }: Definition) {
  return {
    // The runtime looks here to know whether the cell is in sight.
    _node: state.root,
    failed: false,
    pending() {
      if (this.failed) clear(state);
      this.failed = false;
    },
    fulfilled(value: unknown) {
      if (autodisplay) {
        clear(state);
        state.root.append(value instanceof Node ? value : inspect(value));
      } else if (state.autoclear) clear(state);
    },
    rejected(error: unknown) {
      this.failed = true;
      clear(state);
      tell(error, state.root);
    },
  };
}

/** Watches one `${…}` in prose: an element, several of them, or text. */
export function proseObserver({ root }: State) {
  return {
    _node: root,
    pending() {},
    fulfilled(value: unknown) {
      const parts = Array.isArray(value) ? value : [value];
      root.replaceChildren(...parts.map((part: unknown) => shownIn(root, part)));
    },
    rejected(error: unknown) {
      root.replaceChildren();
      tell(error, root);
    },
  };
}

/** A number with its unit, which stay on one line. */
const measured = /^(\S*\d) (\S+)$/;

/** Text that stands alone between paragraphs is one itself; the build has made room for a figure there. */
function shownIn(root: HTMLElement, part: unknown): Node | string {
  if (part instanceof Node) return part;
  const text = part === undefined ? "" : String(part).replace(measured, "$1\u00a0$2");
  if (text === "" || root.tagName !== "DIV") return text;
  const paragraph = document.createElement("p");
  paragraph.textContent = text;
  return paragraph;
}

function clear(state: State): void {
  state.autoclear = false;
  state.root.replaceChildren();
}

function tell(error: unknown, root: HTMLElement): void {
  if (isConsequence(error)) {
    const note = document.createElement("span");
    note.className = "cell-error-after";
    note.textContent = "Not shown: a part of the page that it needs failed.";
    root.append(note);
    return;
  }
  // biome-ignore lint/suspicious/noConsole: whoever writes notebooks looks there for the place of the mistake.
  console.error(error);
  root.append(inspectError(error));
}

/** The runtime hands a failure on to everything that needs its result; it was told where it happened. */
function isConsequence(error: unknown): boolean {
  const { input, message } = error as { input?: unknown; message?: unknown };
  return typeof input === "string" && message !== `${input} is not defined`;
}
