import { el, fileButton, freshId, setText } from "../../controls/index.ts";
import { openDialog } from "./dialog.ts";
import { openFile } from "./opening.ts";
import { ownLines } from "./own-lines.ts";
import { shippedList } from "./shipped-list.ts";
import { counted } from "./words.ts";
import type { Work } from "./work.ts";

/** Lets a person take another line in hand: one that comes with the pages, one of their own, a file. */
export async function chooseLine(work: Work): Promise<void> {
  const { document, kept } = work;
  const id = freshId("find");
  const find = el(document, "input", { type: "search", id, autocomplete: "off", spellcheck: "false" });
  const found = el(document, "span", { class: "control-help", role: "status" });
  let endFollowing = (): void => {};
  await openDialog<true>(document, {
    title: "Choose a line",
    look: "chooser",
    fill: ({ element, close }) => {
      const own = ownLines(work, () => close(true));
      const shipped = shippedList(work, () => close(true));
      const file = fileButton(document, { label: "Open a file…", accept: ".yaml,.yml,.txt" });
      file.addEventListener("input", async () => {
        if (file.value === null) return;
        const chosen = file.value;
        close(true);
        await openFile(work, chosen);
      });
      const filter = (): void => {
        const words = plain(find.value).split(/\s+/);
        const matches = (text: string): boolean => words.every((word) => plain(text).includes(word));
        const count = own.filter(matches) + shipped.filter(matches);
        setText(found, find.value.trim() === "" ? "" : count === 0 ? "No line holds that." : counted(count, "line"));
      };
      find.addEventListener("input", filter);
      // Escape in the field empties it first.
      find.addEventListener("keydown", (event) => {
        if (event.key !== "Escape" || find.value === "") return;
        event.preventDefault();
        event.stopPropagation();
        find.value = "";
        filter();
      });
      element.addEventListener("keydown", (event) => stepThrough(element, find, event));
      void own.list();
      endFollowing = kept.followOthers(() => void own.list());
      const search = el(
        document,
        "div",
        { class: "control chooser-find" },
        el(document, "label", { for: id }, "Find"),
        find,
        found,
      );
      const mine = el(document, "div", { class: "chooser-own" }, own.element, file);
      return [search, el(document, "div", { class: "chooser-lists" }, mine, shipped.element)];
    },
    shown: () => {
      // On a telephone the keyboard would cover the list.
      const touch = document.defaultView?.matchMedia?.("(pointer: coarse)").matches ?? false;
      if (!touch) find.focus();
    },
  });
  endFollowing();
}

function plain(text: string): string {
  return text
    .normalize("NFKD")
    .replace(/\p{Mark}/gu, "")
    .toLowerCase()
    .trim();
}

/** Up and down lead through the lines, from the search field too. */
function stepThrough(dialog: HTMLElement, find: HTMLElement, event: KeyboardEvent): void {
  const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
  if (step === undefined) return;
  const stops = [...dialog.querySelectorAll<HTMLElement>(".line-open")].filter(
    (stop) => stop.closest("[hidden]") === null,
  );
  const at = stops.indexOf(dialog.ownerDocument.activeElement as HTMLElement);
  if (at < 0 && event.target !== find) return;
  event.preventDefault();
  (at + step < 0 ? find : stops[Math.min(at + step, stops.length - 1)])?.focus();
}
