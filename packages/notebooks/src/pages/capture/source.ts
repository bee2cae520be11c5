import type { Issue } from "@railfault/sim";
import { choice, el, fileButton, setText } from "../../controls/index.ts";
import { issuesView } from "../../show/index.ts";
import { demoCaptures } from "./demos.ts";
import { captureProgress } from "./progress.ts";

/** In the menu: a file of one's own, which only its owner has. */
export const OWN = "own";

export interface SourceOptions {
  readonly demo: string;
  readonly take: (file: File) => void;
  readonly open: (demo: string) => void;
  readonly stop: () => void;
}

/** Where a capture comes from: a file that is chosen or dropped, or one that comes with the pages. */
export function sourceView({ demo, take, open, stop }: SourceOptions) {
  const file = fileButton(document, {
    label: "Choose a capture",
    help: "or drop it anywhere on this page: CSV, TXT or TSV as an oscilloscope, a logger or a spreadsheet writes it. It stays on this machine.",
    accept: ".csv,.txt,.tsv,.dat,.asc,text/csv,text/plain",
  });
  file.addEventListener("input", () => {
    if (file.value !== null) take(file.value);
  });
  const known = demoCaptures.some(({ name }) => name === demo);
  const menu = choice(document, {
    label: "Or one that comes with this page",
    as: "menu",
    options: [
      ...demoCaptures.map(({ name, label }) => ({ value: name, label })),
      { value: OWN, label: "a file of your own", disabled: true },
    ],
    value: known ? demo : OWN,
    help: "Synthetic: simulated and seen through an 8-bit instrument, not measured.",
  });
  menu.addEventListener("input", () => open(menu.value));
  const progress = captureProgress("Reading the capture", stop);
  const name = el(document, "p", { class: "capture-name" });
  const told = { title: "", places: false };
  const problems = issuesView(document, told);
  const understood = el(document, "ul");
  const soFar = el(
    document,
    "div",
    { class: "capture-so-far", hidden: true },
    el(document, "p", {}, "Understood so far:"),
    understood,
  );
  const box = el(document, "div", { class: "capture-problems" }, problems.element, soFar);
  return {
    controls: [file, menu],
    progress,
    name,
    problems: box,
    /** Which of the menu is in hand. */
    from(origin: string): void {
      menu.value = origin;
    },
    /** What is in hand. */
    called(text: string): void {
      setText(name, text);
    },
    tell(title: string, issues: readonly Issue[], sentences: readonly string[] = []): void {
      told.title = title;
      problems.show(issues.map((issue) => ({ ...issue, hint: withoutOptions(issue.hint) })));
      soFar.hidden = issues.length === 0 || sentences.length === 0;
      understood.replaceChildren(...sentences.map((sentence) => el(document, "li", {}, sentence)));
      // Somebody who dropped a file far below must see what became of it.
      if (problems.element.dataset.worst === "error") box.scrollIntoView({ block: "nearest" });
    },
  };
}

/** Options in brackets are the command's; a page has fields for them. */
function withoutOptions(hint: string | null): string | null {
  const [first = "", ...rest] = (hint ?? "").split(" (--");
  return hint === null ? null : first + rest.map((part) => part.slice(part.indexOf(")") + 1)).join("");
}
