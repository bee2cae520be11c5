import type { Issue, Position } from "@railfault/sim";
import { button, el } from "../controls/index.ts";

export interface IssuesOptions {
  /** Called with the place of the issue that a person chose; without it places are plain text. */
  readonly go?: (position: Position) => void;
  /** False where nobody sees the file: then neither its name nor its lines mean anything. Default true. */
  readonly places?: boolean;
  /** False where a person wrote one entry only: then its path in the file says nothing. Default true. */
  readonly paths?: boolean;
  /** The heading above the problems; left out: how many there are, and that the scenario was not run. */
  readonly title?: string;
  /** More than these are counted, not listed; default all. */
  readonly most?: number;
}

export interface IssuesView {
  readonly element: HTMLElement;
  /** All problems at once, in their order; without any the box is hidden. */
  show(issues: readonly Issue[]): void;
}

/**
 * What is wrong with a scenario, as the command says it: place, message, received, allowed, what helps.
 *
 * @example const problems = issuesView(document, { go: ({ line, column }) => editor.jump(line, column) }); problems.show(refused.issues);
 */
export function issuesView(document: Document, options: IssuesOptions = {}): IssuesView {
  const title = el(document, "h3");
  const list = el(document, "ol");
  const element = el(document, "section", { class: "issues", role: "alert", hidden: true }, title, list);
  return {
    element,
    show(issues) {
      element.hidden = issues.length === 0;
      const errors = issues.filter(({ severity }) => severity === "error").length;
      element.dataset.worst = errors > 0 ? "error" : "warning";
      title.textContent = options.title ?? heading(errors, issues.length - errors);
      const listed = issues.slice(0, options.most);
      list.replaceChildren(...listed.map((issue) => itemOf(document, issue, options)));
      const left = issues.length - listed.length;
      if (left > 0) list.append(el(document, "li", {}, `${left} more are not listed: mend these first.`));
    },
  };
}

function heading(errors: number, warnings: number): string {
  const counted = (count: number, word: string) => (count === 0 ? [] : [`${count} ${word}${count === 1 ? "" : "s"}`]);
  const told = [...counted(errors, "problem"), ...counted(warnings, "warning")].join(" and ");
  return errors > 0 ? `${told}: this scenario was not run` : told;
}

function itemOf(document: Document, issue: Issue, { go, places = true, paths = true }: IssuesOptions): HTMLElement {
  const { path, severity, message } = issue;
  const position = places ? issue.position : null;
  const words = position === null ? (paths ? path : "") : `${position.file}:${position.line}:${position.column}`;
  const place =
    position !== null && go !== undefined
      ? button(document, { label: words, kind: "quiet", name: `${words}: go there`, press: () => go(position) })
      : el(document, "span", {}, words);
  place.classList.add("place");
  const tag = { class: "state-tag severity", "data-tone": severity === "error" ? "endangered" : "withstood" };
  const facts = el(document, "dl");
  const fact = (name: string, text: string | null) => {
    if (text !== null && text !== "") facts.append(el(document, "dt", {}, name), el(document, "dd", {}, text));
  };
  if (position !== null) fact("at", path);
  fact("received", issue.received);
  fact("allowed", issue.allowed);
  fact("helps", issue.hint);
  return el(
    document,
    "li",
    {},
    ...(words === "" ? [] : [place, " "]),
    el(document, "span", tag, severity),
    el(document, "p", {}, message),
    issue.position === null ? null : excerptOf(document, issue.position),
    facts,
  );
}

/** Of a long line only the surroundings of the place. */
const before = 40;
const behind = 60;

function excerptOf(document: Document, { excerpt, column, length, excerptFrom = 1 }: Position): HTMLElement {
  const start = Math.max(0, column - excerptFrom);
  const end = Math.min(excerpt.length, start + Math.max(1, length));
  const from = Math.max(0, start - before);
  const to = Math.min(excerpt.length, Math.max(end, start + 1) + behind);
  return el(
    document,
    "pre",
    { tabindex: 0 },
    `${from > 0 ? "…" : ""}${excerpt.slice(from, start)}`,
    el(document, "mark", {}, excerpt.slice(start, Math.max(end, start + 1)) || " "),
    `${excerpt.slice(end, to)}${to < excerpt.length ? "…" : ""}`,
  );
}
