import type { Issue } from "@railfault/sim";
import { button, el, freshId, setText } from "../../controls/index.ts";
import type { OpenedLine } from "../../line/open.ts";
import { issuesView } from "../../show/index.ts";
import { keysPanel } from "./keys-panel.ts";
import type { TextEditor } from "./text-editor.ts";

export interface TextBench {
  readonly element: HTMLElement;
  /** What is wrong with the text: it stands where it is seen while one writes. */
  readonly problems: HTMLElement;
  /** Which keys may be used where the cursor stands. */
  readonly keys: HTMLElement;
  leave(): void;
}

/** Long enough that nobody is interrupted, short enough to seem at once, ms. */
const PAUSE_MS = 150;

/** Reading a text of this length takes a noticeable moment: it waits for a longer pause. */
const LONG_TEXT = 32 * 1024;
const LONG_PAUSE_MS = 900;

/** A list of thousands of problems helps nobody, and would take seconds to draw. */
const MOST_SHOWN = 50;

const LEAVING = ["beforeunload", "pagehide"] as const;

const HELP =
  "Tab leaves the text. Ctrl+] and Ctrl+[ move a line in and out, F8 goes to the next problem, Ctrl+Z takes back what was typed here.";

/**
 * The line's file as text to be written in: each pause in typing makes it the line in hand, and whatever else changes the line is
 * written back into it.
 *
 * @example const bench = textBench(opened); display(bench.element);
 */
export function textBench(opened: OpenedLine): TextBench {
  const { line } = opened;
  const helpId = freshId("text-help");
  const keys = keysPanel();
  // What is read until the editor is there, and what is printed: an editor draws only what is in sight.
  const waiting = el(document, "pre", { class: "text-waiting", "aria-label": "The scenario file" }, line.now.text);
  const place = el(document, "div", { class: "text-place" }, waiting);
  const problems = issuesView(document, {
    most: MOST_SHOWN,
    go: ({ line: at, column, length }) => editor?.jump(at, column, length),
  });
  const failed = el(document, "div", { hidden: true });
  const title = el(document, "h2", { class: "unseen" }, "The text of the file");
  const help = el(document, "p", { class: "text-help", id: helpId }, HELP);
  let editor: TextEditor | null = null;
  let pause: ReturnType<typeof setTimeout> | undefined;
  let waits = false;
  let shown: readonly Issue[] | null = null;
  let gone = false;
  let named = line.now.state.line.name;

  const take = (): void => {
    clearTimeout(pause);
    if (!waits || editor === null) return;
    waits = false;
    line.edit(editor.text);
  };
  const written = (text: string): void => {
    waits = true;
    clearTimeout(pause);
    pause = setTimeout(take, text.length > LONG_TEXT ? LONG_PAUSE_MS : PAUSE_MS);
  };
  const show = (issues: readonly Issue[]): void => {
    // Who has just gone to a problem must not lose it to another drawing of the same.
    if (issues === shown) return;
    shown = issues;
    problems.show(issues);
    editor?.mark(issues);
  };

  const load = async (): Promise<void> => {
    failed.hidden = true;
    try {
      const { textEditor } = await import("./text-editor.ts");
      if (gone) return;
      editor = textEditor({
        text: line.now.text,
        label: "The scenario file",
        describedBy: helpId,
        written,
        moved: keys.show,
        left: take,
      });
      place.append(editor.element);
      place.toggleAttribute("data-ready", true);
      editor.begin();
      editor.mark(line.now.parsed.issues);
    } catch (error) {
      const again = button(document, { label: "Try again", press: () => void load() });
      const why = error instanceof Error ? error.message : String(error);
      failed.replaceChildren(el(document, "p", {}, `The text cannot be edited at present: ${why}`), again);
      failed.hidden = false;
    }
  };

  const endFollowing = line.follow(({ state, text, parsed }) => {
    setText(waiting, text);
    const typed = waits || editor?.text === text;
    if (!typed) editor?.put(text);
    // Another file is begun where its own words begin; the one that is written in gets another name, too, by being changed.
    if (state.line.name !== named && !typed) editor?.begin();
    named = state.line.name;
    show(parsed.issues);
  });
  const away = (): void => take();
  // Before the address and the draft are written for the last time.
  for (const leaving of LEAVING) window.addEventListener(leaving, away, { capture: true });
  void load();

  return {
    element: el(document, "div", { class: "text-bench" }, title, place, help, failed),
    problems: el(document, "div", { class: "file-problems" }, problems.element),
    keys: keys.element,
    leave() {
      take();
      gone = true;
      endFollowing();
      for (const leaving of LEAVING) window.removeEventListener(leaving, away, { capture: true });
      editor?.leave();
    },
  };
}
