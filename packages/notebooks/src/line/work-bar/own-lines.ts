import { button, el } from "../../controls/index.ts";
import { problemText, sizeText } from "../../kept/problem.ts";
import type { Entry } from "../../kept/store/records.ts";
import type { Store } from "../../kept/store.ts";
import { askName, askYes } from "./ask.ts";
import { openKept } from "./opening.ts";
import { saveAllAsFile, saveAsFile, takenText } from "./saving.ts";
import { counted, shownTitle, whenText } from "./words.ts";
import type { Work } from "./work.ts";

export interface OwnLines {
  readonly element: HTMLElement;
  /** Lists anew what is kept. */
  list(): Promise<void>;
  /** Shows only what holds these words; gives how many are shown. */
  filter(words: (text: string) => boolean): number;
}

/** The lines that a person keeps in this browser: open, rename, delete with a way back, hand out. */
export function ownLines(work: Work, opened: () => void): OwnLines {
  const { document, copies } = work;
  const list = el(document, "ul", { class: "line-list" });
  const none = el(document, "p", { class: "aside" }, "None yet. “Save” keeps the line in hand here.");
  const said = el(document, "div", { class: "own-said", role: "status" });
  const all = button(document, {
    label: "Export all your lines",
    press: () => void saveAllAsFile(here),
  });
  const element = el(document, "section", {}, el(document, "h3", {}, "Your lines"), said, none, list, all);
  // Until it is known what is kept: what would vanish then took the keyboard's place with it.
  for (const each of [none, list, all]) each.hidden = true;
  let matches: (text: string) => boolean = () => true;

  const tell = (text: string, action?: { readonly label: string; readonly press: () => void }): void => {
    const way = action === undefined ? null : button(document, { ...action, kind: "quiet" });
    said.replaceChildren(el(document, "span", {}, text), ...(way === null ? [] : [way]));
    way?.focus();
  };

  // What is said at the foot of the page stands behind the dialog.
  const here: Work = { ...work, say: (message) => tell(message) };

  const rename = async (store: Store, { name }: Entry): Promise<void> => {
    let renamed: string = name;
    await askName(document, {
      title: `Rename “${shownTitle(name)}”`,
      help: "The line itself stays as it is.",
      proposal: name,
      yes: "Rename",
      attempt: async (wished) => {
        const result = await store.rename(name, wished);
        if (result.kind === "exists") return { kind: "taken", text: takenText(wished, result.entry) };
        if (result.kind === "problem") return { kind: "problem", text: problemText(result.problem) };
        const inHand = copies.now?.entry.name === name ? copies.now : null;
        copies.changed(name, result.entry);
        renamed = result.entry.name;
        if (inHand !== null) {
          work.line.rename(renamed);
          copies.is(result.entry, inHand.text);
        }
        return { kind: "done" };
      },
    });
    await fill();
    buttonOf(renamed, "Rename")?.focus();
    if (renamed !== name) tell(`“${shownTitle(name)}” is “${shownTitle(renamed)}” now.`);
  };

  const remove = async (store: Store, { name }: Entry): Promise<void> => {
    const sure = await askYes(document, {
      title: `Delete “${shownTitle(name)}”?`,
      text: "It is taken out of this browser. Files that were saved from it stay.",
      yes: "Delete",
      no: "Keep it",
    });
    if (!sure) return;
    const removed = await store.remove(name);
    if (removed.kind === "problem") {
      tell(problemText(removed.problem));
      return;
    }
    const inHand = copies.now?.entry.name === name ? copies.now : null;
    copies.changed(name, null);
    await fill();
    const { text } = removed;
    if (text === null) tell(`“${shownTitle(name)}” was deleted; it was damaged.`);
    else
      tell(`“${shownTitle(name)}” was deleted.`, {
        label: "Bring it back",
        press: async () => {
          const saved = await store.save(name, text);
          if (saved.kind === "saved" && inHand !== null) copies.restored(saved.entry, inHand);
          await fill();
          buttonOf(name, "Open")?.focus();
          tell(
            saved.kind === "saved"
              ? `“${shownTitle(name)}” is back.`
              : saved.kind === "problem"
                ? problemText(saved.problem)
                : takenText(name, saved.entry),
          );
        },
      });
  };

  const buttonOf = (name: string, what: string): HTMLButtonElement | null =>
    [...list.querySelectorAll<HTMLElement>("li")]
      .find((item) => item.dataset.name === name)
      ?.querySelector<HTMLButtonElement>(`[data-does="${what}"]`) ?? null;

  const rowOf = (store: Store, entry: Entry): HTMLElement => {
    const { name } = entry;
    const title = shownTitle(name);
    const open = el(
      document,
      "button",
      { type: "button", class: "line-open", "data-does": "Open" },
      el(document, "bdi", { class: "line-title" }, title),
      el(document, "span", { class: "line-note" }, `${whenText(entry.changed_ms)} · ${sizeText(entry.bytes)}`),
    );
    if (copies.now?.entry.name === name) open.setAttribute("aria-current", "true");
    open.addEventListener("click", async () => {
      if (await openKept(work, name)) opened();
      else tell(`“${title}” cannot be read.`);
    });
    const act = (label: string, press: () => void): HTMLButtonElement => {
      const made = button(document, { label, kind: "quiet", name: `${label}: ${title}`, press });
      made.dataset.does = label;
      return made;
    };
    const acts = el(
      document,
      "div",
      { class: "line-acts" },
      act("Rename", () => void rename(store, entry)),
      act("Save as file", async () => {
        const read = await store.read(name);
        if (read.kind === "read") saveAsFile(here, name, read.text);
        else tell(problemText(read.problem));
      }),
      act("Delete", () => void remove(store, entry)),
    );
    return el(document, "li", { "data-name": name }, open, acts);
  };

  const fill = async (): Promise<void> => {
    const store = await work.kept.store;
    const { entries, problems } = await store.list();
    const at = document.activeElement;
    const row = list.contains(at) ? at?.closest<HTMLElement>("li")?.dataset.name : undefined;
    list.replaceChildren(...entries.map((entry) => rowOf(store, entry)));
    if (row !== undefined) buttonOf(row, (at as HTMLElement).dataset.does ?? "Open")?.focus();
    none.hidden = entries.length > 0;
    list.hidden = entries.length === 0;
    all.hidden = entries.length === 0;
    if (problems.length > 0) tell(`${counted(problems.length, "problem")}: ${problems.map(problemText).join(" ")}`);
    filter(matches);
  };

  const filter = (words: (text: string) => boolean): number => {
    matches = words;
    const items = [...list.querySelectorAll<HTMLElement>("li")];
    for (const item of items) item.hidden = !words(item.dataset.name ?? "");
    const count = items.filter(({ hidden }) => !hidden).length;
    element.hidden = count === 0 && items.length > 0;
    return count;
  };

  return { element, list: fill, filter };
}
