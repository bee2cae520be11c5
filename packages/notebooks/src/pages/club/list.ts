import { figures } from "@railfault/sim/figures";
import { button, choice, el, setText } from "../../controls/index.ts";
import { controlGroup } from "../regulator-fails/group.ts";
import { isUnsaid } from "./arranged.ts";
import type { Entry, Talk, TalkLine, TalkNow } from "./talk.ts";

const NONE = "none";

/** Scenarios and slides of the talk: chosen, ordered, taken away, added. */
export function talkLists(talk: Talk): { readonly elements: readonly HTMLElement[]; leave(): void } {
  const lines = linesOf(talk);
  const slides = slidesOf(talk);
  const more = moreOf(talk);
  const ends = [lines, slides, more].map(({ show }) => talk.follow(show));
  return {
    elements: [
      controlGroup({ title: "Scenarios", controls: [lines.element] }, true),
      controlGroup({ title: "Slides", controls: [slides.element] }, true),
      controlGroup({ title: "One more slide", controls: [more.element] }, true),
    ],
    leave: () => {
      for (const end of ends) end();
    },
  };
}

interface Part {
  readonly element: HTMLElement;
  show(now: TalkNow): void;
}

function linesOf(talk: Talk): Part {
  const list = el(document, "ul", { class: "scheme-list" });
  const help = el(document, "p", { class: "control-help" });
  const add = button(document, { label: "Add the line in hand", press: () => talk.addInHand() });
  const anew = button(document, { label: "Begin the talk anew", press: () => talk.anew() });
  const rowOf = ({ title, status }: TalkLine, index: number, all: readonly TalkLine[]): HTMLElement => {
    const remove = button(document, {
      label: "✕",
      name: `Remove ${title} with its slides`,
      press: () => {
        talk.removeLine(index);
        list.querySelectorAll("button")[Math.max(0, index - 1)]?.focus();
      },
      disabled: all.length === 1,
    });
    const words = { running: "running …", answered: "", refused: "cannot be run", failed: "broke off" }[status];
    const acts = el(document, "div", { class: "scheme-acts" }, remove);
    return el(
      document,
      "li",
      {},
      el(document, "strong", {}, title),
      acts,
      el(document, "span", { class: "control-help" }, words),
    );
  };
  let last = "";
  return {
    element: el(document, "div", { class: "club-lines" }, list, help, el(document, "div", { class: "row" }, add, anew)),
    show({ lines, inHand, arranged }) {
      const key = JSON.stringify(lines.map(({ title, status }) => [title, status]));
      if (key !== last) list.replaceChildren(...lines.map(rowOf));
      last = key;
      setText(
        help,
        !arranged
          ? "The talk of the line in hand. Choose another line at the top of the page; what you arrange here stays then, and you can add that line to it."
          : inHand.taken
            ? "To add one more, choose it at the top of the page."
            : `In hand: “${inHand.title}”, which is not in this talk.`,
      );
      add.disabled = !arranged || inHand.taken || !inHand.sound;
      anew.disabled = !arranged;
    },
  };
}

function slidesOf(talk: Talk): Part {
  const list = el(document, "ol", { class: "scheme-list club-slides" });
  const focusOn = (index: number, what: string): void => {
    const row = list.children[Math.max(0, Math.min(index, list.children.length - 1))];
    const wanted = row?.querySelector<HTMLButtonElement>(`[data-what="${what}"]:not(:disabled)`);
    (wanted ?? row?.querySelector<HTMLButtonElement>("button:not(:disabled)"))?.focus();
  };
  const rowOf = (entry: Entry, index: number, now: TalkNow): HTMLElement => {
    const { slide, line, written } = entry;
    const unsaid = isUnsaid(written);
    const from = now.lines[line];
    const title = slide?.headline ?? `${from.title}: ${from.status === "running" ? "running …" : "cannot be run"}`;
    const act = (what: string, sign: string, press: () => void, disabled = false): HTMLButtonElement => {
      const made = button(document, { label: sign, name: `${what}: ${title}`, disabled, press });
      made.dataset.what = what;
      made.title = what;
      return made;
    };
    const move = (to: number, what: string) => () => {
      talk.move(index, to);
      focusOn(to, what);
    };
    const show = button(document, { label: title, kind: "quiet", press: () => talk.go(index) });
    show.dataset.what = "show";
    return el(
      document,
      "li",
      {},
      show,
      el(
        document,
        "div",
        { class: "scheme-acts" },
        act("Move up", "↑", move(index - 1, "Move up"), index === 0),
        act("Move down", "↓", move(index + 1, "Move down"), index === now.entries.length - 1),
        act(
          "Remove",
          "✕",
          () => {
            talk.remove(index);
            focusOn(index, "Remove");
          },
          now.entries.length === 1,
        ),
      ),
      now.lines.length > 1 ? el(document, "span", { class: "control-help" }, from.title) : null,
      unsaid ? el(document, "span", { class: "control-help" }, "Says the proposed words: yours cannot be used.") : null,
    );
  };
  let last = "";
  return {
    element: list,
    show(now) {
      const key = JSON.stringify([
        now.entries.map(({ key: of, slide, written }) => [of, slide?.headline, isUnsaid(written)]),
        now.lines.map(({ title, status }) => [title, status]),
      ]);
      if (key !== last) list.replaceChildren(...now.entries.map((entry, i) => rowOf(entry, i, now)));
      last = key;
      [...list.children].forEach((row, i) => {
        row.toggleAttribute("data-at", i === now.at);
        const show = row.querySelector("button");
        if (i === now.at) show?.setAttribute("aria-current", "true");
        else show?.removeAttribute("aria-current");
      });
    },
  };
}

/** What the talk's scenarios could show besides. */
function moreOf(talk: Talk): Part {
  const nothing = [{ value: NONE, label: "every slide is in the talk" }];
  const menu = choice(document, { label: "Slide", as: "menu", options: nothing, value: NONE });
  const add = button(document, {
    label: "Add behind the slide that is shown",
    press: () => {
      const [line = "", id = ""] = menu.value.split(".");
      if (menu.value !== NONE) talk.add({ line: Number(line), id });
    },
  });
  return {
    element: el(document, "div", { class: "scheme-form" }, menu, add),
    show({ lines, entries }) {
      const taken = new Set(entries.map(({ line, id }) => `${line}.${id}`));
      const offered = lines.flatMap(({ title, offered: all }, line) =>
        all
          .filter(({ id }) => !taken.has(`${line}.${id}`))
          .map(({ id, slide }) => {
            const shows = figures.find(({ name }) => name === id)?.shows;
            const label = shows ?? slide.headline;
            return { value: `${line}.${id}`, label, ...(lines.length > 1 ? { group: title } : {}) };
          }),
      );
      const options = offered.length === 0 ? nothing : offered;
      const value = options.some((each) => each.value === menu.value) ? menu.value : options[0].value;
      menu.update({ options, value });
      add.disabled = offered.length === 0;
    },
  };
}
