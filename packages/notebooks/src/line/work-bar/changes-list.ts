import { describeValue } from "@railfault/sim";
import { button, el, setText } from "../../controls/index.ts";
import type { Path } from "../../kept/state.ts";
import { closesLikeMenu } from "../../show/menu.ts";
import type { LineNow } from "../line.ts";
import { counted, shownTitle } from "./words.ts";
import type { Work } from "./work.ts";

export interface ChangesList {
  readonly element: HTMLElement;
  show(now: LineNow): void;
}

/** “3 changes”: opened, it lists what stands where, what stood there before, and takes each back on its own. */
export function changesList(work: Work): ChangesList {
  const { document } = work;
  const summary = el(document, "summary", { class: "quiet" });
  const list = el(document, "ul", { class: "change-list" });
  const box = el(
    document,
    "div",
    { class: "menu-list" },
    el(document, "p", { class: "menu-title" }, "Changed since it was opened"),
    list,
  );
  const element = el(document, "details", { class: "menu changes" }, summary, box);
  closesLikeMenu(element);
  let shown: LineNow["state"]["changes"] | null = null;

  const takeBack = (path: Path, at: number): void => {
    const words = pathWords(path);
    const refused = work.line.takeBack(path, `take back ${words}`);
    if (refused.length === 0) {
      work.say(`Taken back: ${words}.`);
      const rest = [...list.querySelectorAll("button")];
      (rest[Math.min(at, rest.length - 1)] ?? work.document.querySelector<HTMLElement>(".work-name"))?.focus();
    }
  };

  return {
    element,
    show(now) {
      const { changes } = now.state;
      element.hidden = changes.length === 0;
      if (element.hidden) element.open = false;
      setText(summary, counted(changes.length, "change"));
      if (shown === changes) return;
      shown = changes;
      list.replaceChildren(
        ...changes.map(([path, value], at) => {
          const words = pathWords(path);
          const before = describeValue(now.original, path)?.text ?? null;
          return el(
            document,
            "li",
            {},
            el(document, "span", { class: "change-path" }, words),
            el(document, "span", { class: "change-value" }, value === null ? "taken out" : shownTitle(value)),
            el(document, "span", { class: "change-before" }, before === null ? "" : `before: ${shownTitle(before)}`),
            button(document, {
              label: "Take back",
              kind: "quiet",
              name: `Take back: ${words}`,
              press: () => takeBack(path, at),
            }),
          );
        }),
      );
    },
  };
}

/** A path as a person reads it: places in lists count from 1. */
export function pathWords(path: Path): string {
  return path.map((step) => (typeof step === "number" ? String(step + 1) : shownTitle(step))).join(" › ");
}
