import type { Issue } from "@railfault/sim";
import { button, el, setText } from "../../controls/index.ts";
import type { Problem } from "../../kept/problem.ts";
import { issuesView } from "../../show/index.ts";

export interface NoticeAction {
  readonly label: string;
  /** The notice goes when it is done. */
  readonly press: () => void;
}

export interface NoticeLink {
  readonly label: string;
  readonly href: string;
}

export interface Notice {
  readonly title: string;
  readonly text?: string;
  readonly problems?: readonly Problem[];
  /** What is wrong with a text, with places in it. */
  readonly issues?: readonly Issue[];
  readonly actions?: readonly NoticeAction[];
  readonly links?: readonly NoticeLink[];
  /** `note` for what is no trouble. */
  readonly tone?: "problem" | "note";
}

export interface NoticeView {
  readonly element: HTMLElement;
  /** Shows a notice in the place of the one with the same key; null takes it away. */
  put(key: string, notice: Notice | null): void;
}

/**
 * Notices that stand until they are dismissed or settled. They block nothing; a screen reader reads the title of each
 * new one.
 *
 * @example
 * const notices = noticeView(document);
 * notices.put("file", { title: "hut.yaml was not opened.", problems: [imported.problem] });
 */
export function noticeView(document: Document): NoticeView {
  const list = el(document, "div", { class: "notices", hidden: true });
  const heard = el(document, "p", { class: "unseen", role: "status" });
  const element = el(document, "div", {}, list, heard);
  const shown = new Map<string, HTMLElement>();
  const settle = (key: string): void => {
    shown.get(key)?.remove();
    shown.delete(key);
    list.hidden = shown.size === 0;
    if (list.hidden) setText(heard, "");
  };
  return {
    element,
    put(key, notice) {
      if (notice === null) {
        settle(key);
        return;
      }
      const box = boxOf(document, notice, () => settle(key));
      const before = shown.get(key);
      if (before === undefined) list.append(box);
      else before.replaceWith(box);
      shown.set(key, box);
      list.hidden = false;
      setText(heard, notice.title);
    },
  };
}

function boxOf(document: Document, notice: Notice, settle: () => void): HTMLElement {
  const { title, text, problems = [], issues = [], actions = [], links = [], tone = "problem" } = notice;
  const dismiss = button(document, { label: "Dismiss", kind: "quiet", name: `Dismiss: ${title}`, press: settle });
  const list = problems.length === 0 ? null : el(document, "ul", {}, ...problems.map((each) => itemOf(document, each)));
  const buttons = actions.map(({ label, press }) => button(document, { label, press: () => [settle(), press()] }));
  const ways = links.map(({ label, href }) => el(document, "a", { class: "button", href }, label));
  return el(
    document,
    "section",
    { class: "notice", "data-tone": tone, "aria-label": title },
    el(document, "div", { class: "notice-head" }, el(document, "p", { class: "notice-title" }, title), dismiss),
    text === undefined ? null : el(document, "p", {}, text),
    list,
    issues.length === 0 ? null : issuesOf(document, issues),
    buttons.length + ways.length === 0 ? null : el(document, "div", { class: "row" }, ...buttons, ...ways),
  );
}

function itemOf(document: Document, { where, message, received, allowed, hint }: Problem): HTMLElement {
  const facts = el(document, "dl");
  const fact = (name: string, text: string | null): void => {
    if (text !== null) facts.append(el(document, "dt", {}, name), el(document, "dd", {}, text));
  };
  fact("received", received);
  fact("allowed", allowed);
  fact("helps", hint);
  const place = el(document, "span", { class: "notice-place" }, where);
  return el(document, "li", {}, place, " ", message, facts);
}

function issuesOf(document: Document, issues: readonly Issue[]): HTMLElement {
  const view = issuesView(document);
  view.show(issues);
  // The title was said already; and a long list must not push the page away.
  view.element.removeAttribute("role");
  const name = "Problems of the file";
  return el(document, "div", { class: "notice-issues", tabindex: 0, role: "region", "aria-label": name }, view.element);
}
