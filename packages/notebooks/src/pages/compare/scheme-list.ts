import { isSchemeWord, SCHEME_ABOUT, SCHEME_WORDS } from "@railfault/sim";
import { button, choice, el, setText, textField } from "../../controls/index.ts";
import type { OpenedLine } from "../../line/open.ts";
import { issuesView } from "../../show/index.ts";
import { controlGroup } from "../regulator-fails/group.ts";
import { type Listed, listChange, problemsOf, schemesOf, schemeText } from "./schemes.ts";

/** Most entries that a file's list takes. */
const MOST = 40;
const NONE = "none";

/** The schemes that are compared: named, moved, taken away and added. What is done here is done to the line's file, and undone like anything else. */
export function schemeList(opened: OpenedLine): readonly HTMLElement[] {
  const { line } = opened;
  const items = el(document, "ol", { class: "scheme-list" });
  const whose = el(document, "p", { class: "control-help" });
  const now = (): readonly Listed[] => schemesOf(line.now);
  const put = (label: string, texts: readonly string[]): void => {
    line.set(label, listChange(texts));
  };
  const move = (from: number, to: number, what: string): void => {
    const texts = now().map(({ text }) => text);
    texts.splice(to, 0, ...texts.splice(from, 1));
    put(`move ${now()[from].name}`, texts);
    focusOn(to, what);
  };
  const focusOn = (index: number, what: string): void => {
    const entry = items.children[Math.min(index, items.children.length - 1)];
    const wanted = entry?.querySelector<HTMLButtonElement>(`[data-what="${what}"]:not(:disabled)`);
    (wanted ?? entry?.querySelector<HTMLButtonElement>("button:not(:disabled)"))?.focus();
  };
  const form = ownScheme(opened);
  const entryOf = ({ name, about }: Listed, index: number, all: readonly Listed[]): HTMLElement => {
    const act = (what: string, sign: string, press: () => void, disabled = false): HTMLButtonElement => {
      const made = button(document, { label: sign, name: `${what}: ${name}`, press, disabled });
      made.dataset.what = what;
      made.title = what;
      return made;
    };
    return el(
      document,
      "li",
      {},
      el(document, "strong", {}, name),
      el(
        document,
        "div",
        { class: "scheme-acts" },
        act("Move up", "↑", () => move(index, index - 1, "Move up"), index === 0),
        act("Move down", "↓", () => move(index, index + 1, "Move down"), index === all.length - 1),
        act("Change", "✎", () => form.change(index)),
        act(
          "Remove",
          "✕",
          () => {
            form.close();
            const texts = now().map(({ text }) => text);
            put(`remove ${name}`, texts.toSpliced(index, 1));
            focusOn(index, "Remove");
          },
          all.length === 1,
        ),
      ),
      el(document, "span", { class: "control-help" }, about),
    );
  };
  let last = "";
  line.follow(() => {
    const all = now();
    const key = JSON.stringify(all);
    if (key === last) return;
    last = key;
    items.replaceChildren(...all.map(entryOf));
    const own = line.now.parsed.written !== null && all.some(({ name, text }) => name !== text || !isSchemeWord(name));
    setText(
      whose,
      own
        ? "They stand under variants in the line’s file. The line as it stands always takes part."
        : "Ready-made schemes. The line as it stands always takes part.",
    );
  });
  const element = controlGroup({ title: "What is compared", controls: [el(document, "div", {}, whose, items)] }, true);
  const add = controlGroup({ title: "Add a scheme", controls: [readyMade(opened), form.element] }, true);
  return [element, add];
}

/** A ready-made scheme that is not in the list yet. */
function readyMade(opened: OpenedLine): HTMLElement {
  const { line } = opened;
  const offered = () => {
    const taken = schemesOf(line.now).map(({ name }) => name);
    const left = SCHEME_WORDS.filter((word) => !taken.includes(word));
    const options = left.map((word) => ({ value: word as string, label: word as string }));
    return options.length > 0 ? options : [{ value: NONE, label: "all of them are in the list" }];
  };
  const menu = choice(document, { label: "Ready-made", as: "menu", options: offered(), value: offered()[0].value });
  const about = el(document, "p", { class: "control-help" });
  const told = (): void => setText(about, isSchemeWord(menu.value) ? SCHEME_ABOUT[menu.value] : "");
  const add = button(document, {
    label: "Add the ready-made scheme",
    press: () => {
      const texts = schemesOf(line.now).map(({ text }) => text);
      if (isSchemeWord(menu.value) && texts.length < MOST)
        line.set(`add ${menu.value}`, listChange([...texts, menu.value]));
    },
  });
  menu.addEventListener("input", told);
  line.follow(() => {
    const options = offered();
    menu.update({ options, value: options.some(({ value }) => value === menu.value) ? menu.value : options[0].value });
    add.disabled = options[0].value === NONE;
    told();
  });
  return el(document, "div", { class: "scheme-form" }, menu, about, add);
}

/** A scheme of one's own: a name, and changes in the keys of the file. */
function ownScheme(opened: OpenedLine) {
  const { line } = opened;
  const name = textField(document, {
    label: "Name of your own",
    value: "",
    help: "How the table calls it.",
  });
  const change = textField(document, {
    label: "What it changes",
    value: "crowbar: {trip voltage: 15.5 V}",
    help: "As the line’s file says it: a key, a colon, its value. Several are parted by commas, as in “main fuse: none, ambient: 40 °C”; a value that has a comma itself stands in quotes, as in “clamp: 'TVS 5 kW, 15 V'”.",
  });
  const problems = issuesView(document, {
    places: false,
    paths: false,
    most: 2,
    title: "This scheme cannot be taken into the list yet",
  });
  let edited: number | null = null;
  const put = button(document, { label: "Add your own scheme", press: () => take() });
  const cancel = button(document, { label: "Leave it", press: () => close() });
  const close = (): void => {
    edited = null;
    setText(put, "Add your own scheme");
    cancel.hidden = true;
    problems.show([]);
  };
  const take = (): void => {
    const texts = schemesOf(line.now).map(({ text }) => text);
    const index = edited ?? texts.length;
    const changed = [...texts.slice(0, index), schemeText(name.value, change.value), ...texts.slice(index + 1)];
    const found = problemsOf(line.now, changed, index);
    problems.show(found);
    if (found.length > 0) {
      problems.element.scrollIntoView({ block: "nearest" });
      return;
    }
    line.set(`${edited === null ? "add" : "change"} ${name.value}`, listChange(changed));
    close();
    name.value = "";
  };
  cancel.hidden = true;
  return {
    element: el(
      document,
      "div",
      { class: "scheme-form" },
      name,
      change,
      problems.element,
      el(document, "div", { class: "scheme-acts" }, put, cancel),
    ),
    close,
    /** Takes an entry of the list in hand. */
    change(index: number): void {
      const chosen = schemesOf(line.now)[index];
      edited = index;
      name.value = chosen.name;
      change.value = chosen.change;
      setText(put, `Change ${chosen.name}`);
      cancel.hidden = false;
      problems.show([]);
      const group = name.closest("details");
      if (group !== null) group.open = true;
      name.querySelector("input")?.focus();
    },
  };
}
