import { FitMemory, parseScenario } from "@railfault/sim";
import { button, el, fileButton, setText } from "../../controls/index.ts";
import { encodeAddress } from "../../kept/address.ts";
import { importFile } from "../../kept/exchange.ts";
import { type Problem, problemText, sizeText } from "../../kept/problem.ts";
import type { PageState } from "../../kept/state.ts";
import { openStore } from "../../kept/store.ts";
import { tabWord } from "../../line/browser.ts";
import { shownTitle, whenText } from "../../line/work-bar/words.ts";

export interface OwnWork {
  readonly element: HTMLElement;
  leave(): void;
}

/** Where a line is opened, and where one with mistakes is mended. */
const LINE_PAGE = "regulator-fails";
const TEXT_PAGE = "file";

/** The lines that are kept in this browser and a way in for a file: whatever is chosen opens on the page that fits. */
export function ownWork(): OwnWork {
  const said = el(document, "p", { class: "kept-said", role: "status" });
  const list = el(document, "ul", { class: "kept-list" });
  const none = el(document, "p", { class: "aside" }, "No line is kept here yet. “Save” on one of the pages keeps one.");
  const file = fileButton(document, { label: "Open a scenario file", accept: ".yaml,.yml" });
  const say = (problems: readonly Problem[]): void => {
    setText(said, problems.map(problemText).join(" "));
  };
  const store = openStore({
    factory: () => window.indexedDB,
    now: () => Date.now(),
    tab: tabWord(window),
    onOthers: () => void fill(),
    onStorage: (storage) => {
      if (storage.kind === "memory") say([storage.problem]);
    },
  });

  const open = async (name: string, text: string): Promise<void> => {
    const page = parseScenario(text, name, new FitMemory()).scenario === null ? TEXT_PAGE : LINE_PAGE;
    const state: PageState = { line: { kind: "own", name, text }, changes: [], view: {} };
    const encoded = encodeAddress(state);
    if (encoded.kind === "unfit") say(encoded.problems);
    else if (encoded.kind === "address") window.location.assign(`./${page}.html${encoded.hash}`);
    else {
      // What no address can carry goes as the page's draft.
      const put = await (await store).saveDraft(page, state);
      if (put.kind === "saved") window.location.assign(`./${page}.html`);
      else say([put.problem]);
    }
  };

  const rowOf = (name: string, note: string): HTMLElement => {
    const press = async (): Promise<void> => {
      const read = await (await store).read(name);
      if (read.kind === "read") await open(name, read.text);
      else say([read.problem]);
    };
    const title = shownTitle(name);
    return el(
      document,
      "li",
      {},
      button(document, { label: title, kind: "quiet", name: `Open “${title}”`, press: () => void press() }),
      el(document, "span", { class: "kept-note" }, note),
    );
  };
  const fill = async (): Promise<void> => {
    const opened = await store;
    if (opened.storage.kind === "memory") say([opened.storage.problem]);
    const { entries, problems } = await opened.list();
    list.replaceChildren(
      ...entries.map(({ name, changed_ms, bytes }) => rowOf(name, `${whenText(changed_ms)} · ${sizeText(bytes)}`)),
    );
    list.hidden = entries.length === 0;
    none.hidden = entries.length > 0;
    if (problems.length > 0) say(problems);
  };

  file.addEventListener("input", async () => {
    if (file.value === null) return;
    const imported = await importFile(file.value);
    if (imported.kind === "refused") say([imported.problem]);
    else await open(imported.name, imported.text);
  });
  void fill();
  // A page that comes back as it was left shows what is kept now.
  const back = (): void => void fill();
  window.addEventListener("pageshow", back);
  return {
    element: el(document, "div", { class: "own-work" }, list, none, file, said),
    leave() {
      window.removeEventListener("pageshow", back);
      void store.then((opened) => opened.close());
    },
  };
}
