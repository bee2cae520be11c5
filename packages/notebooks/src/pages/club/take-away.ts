import { button, choice, el, setText } from "../../controls/index.ts";
import { fileOf } from "../../kept/exchange/file-names.ts";
import { fileName, issuesView, saveFile, schemeOf } from "../../show/index.ts";
import { isUnsaid } from "./arranged.ts";
import type { Sheet, SheetName } from "./sheets.ts";
import type { Talk, TalkNow } from "./talk.ts";

/** The talk as files: one that steps through, all pictures. */
export function talkFiles(talk: Talk) {
  const said = el(document, "p", { class: "club-said", role: "status" });
  const scheme = choice(document, {
    label: "Ground",
    value: "light",
    options: [
      { value: "light", label: "light" },
      { value: "page", label: "as on this page" },
    ],
  });
  let working = false;
  const hand = async (what: "talkFile" | "picturesFile", ending: string, tail: string): Promise<void> => {
    if (working) return;
    const { entries, parts, lines } = talk.now;
    const slides = entries.flatMap(({ slide }) => (slide === null ? [] : [slide]));
    if (lines.some(({ status }) => status === "running") || slides.length === 0) {
      setText(said, slides.length === 0 ? "There is no slide yet." : "One moment: a scenario is still running.");
      return;
    }
    working = true;
    setText(said, "Drawing …");
    try {
      const files = await import("./files.ts");
      const blob = await files[what]({
        parts,
        slides,
        scheme: scheme.value === "light" ? "light" : schemeOf(document),
        progress: (done, total) => setText(said, `Drawing slide ${done} of ${total} …`),
      });
      const name = fileName(`${slides[0].headline}${tail}`, ending);
      saveFile(document, { name, blob });
      const left = entries.length - slides.length;
      const unsaid = entries.flatMap(({ written }, i) => (isUnsaid(written) ? [i + 1] : []));
      setText(
        said,
        `Saved as ${name}.${left > 0 ? ` ${left} that cannot be drawn left out.` : ""}${unsaid.length > 0 ? ` With the proposed words, for yours cannot be used: slide ${unsaid.join(", ")}.` : ""}`,
      );
    } catch (error) {
      setText(said, `This could not be made: ${error instanceof Error ? error.message : String(error)}`);
    }
    working = false;
  };
  return el(
    document,
    "div",
    { class: "club-files" },
    scheme,
    el(
      document,
      "div",
      { class: "row" },
      button(document, {
        label: "Save the talk as one file",
        kind: "main",
        press: () => void hand("talkFile", "html", ""),
      }),
      button(document, {
        label: "Save all pictures (ZIP)",
        press: () => void hand("picturesFile", "zip", " pictures"),
      }),
    ),
    said,
  );
}

const SHEETS: readonly { readonly value: SheetName; readonly label: string }[] = [
  { value: "handout", label: "handout" },
  { value: "card", label: "bench test card" },
  { value: "reset", label: "reset sheet" },
];

/** Sheets of paper for one of the talk's scenarios: shown as they are printed, printed, saved. */
export function talkSheets(talk: Talk) {
  const name = choice(document, { label: "Sheet", options: SHEETS, value: "handout" });
  const whose = choice(document, { label: "Scenario", as: "menu", options: [{ value: "0", label: "…" }], value: "0" });
  const said = el(document, "p", { class: "club-said", role: "status" });
  const problems = issuesView(document, { places: false, title: "There is no such sheet for this line", most: 4 });
  const frame = el(document, "iframe", {
    class: "club-sheet",
    title: "The sheet",
    sandbox: "allow-same-origin allow-modals",
    hidden: true,
  });
  let shown: { readonly html: string; readonly title: string; readonly key: string } | null = null;
  let asked = 0;
  const show = button(document, { label: "Show the sheet", kind: "main", press: () => void make() });
  const print = button(document, {
    label: "Print it",
    press: () => {
      frame.contentWindow?.focus();
      frame.contentWindow?.print();
    },
  });
  const save = button(document, {
    label: "Save it as a page",
    press: () => {
      if (shown === null) return;
      const file = fileName(shown.title, "html");
      saveFile(document, { name: file, blob: new Blob([shown.html], { type: "text/html" }) });
      setText(said, `Saved as ${file}.`);
    },
  });
  const after = el(document, "div", { class: "row", hidden: true }, print, save);
  const put = (sheet: Sheet | null, title = "", key = ""): void => {
    shown = sheet?.kind === "sheet" ? { html: sheet.html, title, key } : null;
    problems.show(sheet?.kind === "refused" ? sheet.issues : []);
    frame.hidden = after.hidden = shown === null;
    if (shown !== null) {
      frame.title = title;
      frame.srcdoc = shown.html;
    }
  };
  frame.addEventListener("load", () => {
    const inside = frame.contentDocument?.documentElement;
    if (!inside) return;
    // Its own height: what a page scrolls through is never less than the frame that the sheet before it left.
    const fit = (): void => {
      frame.style.height = `${inside.offsetHeight + 2}px`;
    };
    fit();
    new ResizeObserver(fit).observe(inside);
  });
  const make = async (): Promise<void> => {
    const line = talk.now.lines[Number(whose.value)];
    if (line === undefined || line.answer === null) {
      setText(said, line?.status === "running" ? "One moment: it is still running." : "This scenario cannot be run.");
      return;
    }
    asked += 1;
    const id = asked;
    setText(said, "Making it …");
    try {
      const { makeSheet } = await import("./sheets.ts");
      const sheet = await makeSheet(name.value as SheetName, line.answer, line.text, fileOf(line.title));
      if (id !== asked) return;
      const label = SHEETS.find(({ value }) => value === name.value)?.label ?? "";
      put(sheet, `${line.title}: ${label}`, keyOf(talk.now));
      setText(said, "");
    } catch (error) {
      if (id === asked)
        setText(said, `This could not be made: ${error instanceof Error ? error.message : String(error)}`);
    }
  };
  const keyOf = ({ lines }: TalkNow): string =>
    JSON.stringify([name.value, whose.value, lines[Number(whose.value)]?.text]);
  // A sheet that is shown must not be taken for that of another scenario.
  const check = (): void => {
    asked += 1;
    setText(said, "");
    if (shown === null || shown.key !== keyOf(talk.now)) put(null);
  };
  name.addEventListener("input", check);
  whose.addEventListener("input", check);
  const end = talk.follow(({ lines }) => {
    const options = lines.map(({ title }, i) => ({ value: String(i), label: title }));
    whose.update({ options, value: options.some(({ value }) => value === whose.value) ? whose.value : "0" });
    if (shown !== null && shown.key !== keyOf(talk.now)) check();
  });
  return {
    element: el(
      document,
      "div",
      { class: "club-sheets" },
      el(document, "div", { class: "club-choices" }, whose, name),
      el(document, "div", { class: "row" }, show, after),
      said,
      problems.element,
      frame,
    ),
    leave: end,
  };
}
