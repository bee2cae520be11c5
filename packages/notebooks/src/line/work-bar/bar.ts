import { button, el, setAttributes, setText } from "../../controls/index.ts";
import type { Problem } from "../../kept/problem.ts";
import type { PageState } from "../../kept/state.ts";
import { baseText, type LineNow } from "../line.ts";
import { shippedLine } from "../shipped.ts";
import { changesList } from "./changes-list.ts";
import { chooseLine } from "./chooser.ts";
import { takeDrops } from "./drop.ts";
import { folding } from "./fold.ts";
import { historyButtons } from "./history-buttons.ts";
import { KeptCopies } from "./kept-copy.ts";
import { noticeView } from "./notice.ts";
import { printedLine } from "./printed-line.ts";
import { save, saveAsFile } from "./saving.ts";
import { copyLink } from "./share.ts";
import { counted, fileText, shownTitle } from "./words.ts";
import type { Work, WorkBarOptions } from "./work.ts";

export interface WorkBar {
  readonly element: HTMLElement;
  /** What address and storage have to say at present, in place of what they said before: for `keepLine`'s `onProblems`. */
  problems(problems: readonly Problem[]): void;
  leave(): void;
}

/**
 * The line in hand in one row: which it is, other ones, undo and redo, saving, a link, starting over; and below it what
 * stands in the way of any of that.
 *
 * @example
 * const bar = workBar(document, { line, kept, say: status.say });
 * invalidation.then(() => bar.leave());
 */
export function workBar(document: Document, options: WorkBarOptions): WorkBar {
  const notices = noticeView(document);
  const copies = new KeptCopies(options.line, () => show());
  const work: Work = { textPage: "file.html", anyText: false, otherFiles: null, ...options, document, notices, copies };
  const { line, kept } = work;

  const title = el(document, "bdi", { class: "work-title" });
  const name = el(document, "button", { type: "button", class: "work-name", "aria-haspopup": "dialog" }, title);
  const standing = el(document, "span", { class: "work-standing" });
  const changes = changesList(work);
  const printed = printedLine(document);
  const history = historyButtons(work);
  const press = (label: string, act: () => void): HTMLButtonElement => button(document, { label, press: act });
  const startOver = press("Start over", () => startAgain(work));
  const actions = folding(
    document,
    [...history.buttons, press("Save", () => void save(work))],
    [
      press("Save as file", () => saveAsFile(work, calledIn(line.now), fileText(line.now.text))),
      press("Copy link", () => void copyLink(work)),
      startOver,
    ],
  );
  const place = el(document, "div", { class: "work-line" }, name, changes.element, standing);
  const row = el(document, "div", { class: "work-row" }, place, actions.element);
  const element = el(
    document,
    "section",
    { class: "work-bar", "aria-label": "Line in hand" },
    row,
    notices.element,
    printed.element,
  );
  // The line may change its name while it is chosen; the button is what the focus comes back to.
  name.addEventListener("click", () => void chooseLine(work));

  let memory = false;
  let refused: LineNow["refused"] = [];
  function show(): void {
    const { now } = line;
    const called = shownTitle(calledIn(now));
    setText(title, called);
    setAttributes(name, { "aria-label": `${called}: choose another line`, title: called });
    setText(standing, standingOf(work, memory));
    changes.show(now);
    printed.show(now, called);
    history.show();
    setAttributes(startOver, { "aria-disabled": isChanged(work) ? null : "true" });
    if (now.refused.length > 0 && now.refused !== refused) noteRefused(work, now);
    refused = now.refused;
  }
  const ends = [
    line.follow((now) => {
      copies.follow(now);
      show();
    }),
    takeDrops(work),
    history.leave,
    actions.leave,
  ];
  let left = false;
  void kept.store.then(async (store) => {
    memory = store.storage.kind === "memory";
    if (!left) show();
    await findCopy(work);
  });
  void kept.before.then((before) => {
    if (before !== null && !left) offerBefore(work, before);
  });
  return {
    element,
    problems: (problems) => noteProblems(work, problems),
    leave: () => {
      left = true;
      for (const end of ends) end();
    },
  };
}

/** What the line in hand is called: one's own by the name it is kept under, others by their title. */
function calledIn({ state, title }: LineNow): string {
  return state.line.kind === "own" ? state.line.name : title;
}

function standingOf({ copies, line }: Work, memory: boolean): string {
  const { state, text } = line.now;
  if (state.line.kind === "shipped") return state.changes.length > 0 ? "not saved" : "comes with these pages";
  const own = copies.now;
  if (own === null) return "not saved";
  if (own.text !== text) return "not saved since";
  return memory ? "kept until this page is closed" : "kept in this browser";
}

function isChanged({ copies, line }: Work): boolean {
  const { state, text } = line.now;
  return state.changes.length > 0 || (copies.now !== null && copies.now.text !== text);
}

/** Back to the line as it was opened or saved last. */
function startAgain(work: Work): void {
  const { copies, line, say } = work;
  if (!isChanged(work)) {
    say("Nothing was changed.");
    return;
  }
  const own = copies.now;
  if (own !== null && own.text !== baseText(line.now.state.line)) {
    line.open({ kind: "own", name: own.entry.name, text: own.text });
    copies.is(own.entry, own.text);
  } else line.reset();
  say("All changes are taken back. Undo brings them again.");
}

/** After a reload: is the line in hand one that is kept, unchanged? */
async function findCopy({ copies, kept, line }: Work): Promise<void> {
  const { line: own } = line.now.state;
  if (own.kind !== "own") return;
  const read = await (await kept.store).read(own.name);
  if (read.kind === "read" && read.text === own.text && line.now.state.line === own) copies.is(read.entry, read.text);
}

function noteRefused({ notices }: Work, { refused }: LineNow): void {
  notices.put("refused", {
    title: `${counted(refused.length, "change")} could not be made on this line; the rest stands.`,
    problems: refused.map(({ path, ...issue }) => ({ ...issue, where: path })),
  });
}

/** With these the line that an address means is not the one that is shown. */
const LINE_LOST = /^(?:wrong-version|no-line|unknown-line|text-.*|name-.*)$/;

function noteProblems({ line, notices }: Work, problems: readonly Problem[]): void {
  const once = new Map(problems.map((each) => [JSON.stringify(each), each]));
  const lost = problems.some(({ code }) => LINE_LOST.test(code));
  const instead = lost
    ? { text: `Shown instead: “${shownTitle(calledIn(line.now))}”, not the line that was meant.` }
    : {};
  notices.put(
    "page",
    once.size === 0 ? null : { title: headingOf(problems), problems: [...once.values()], ...instead },
  );
}

function headingOf(problems: readonly Problem[]): string {
  const storage = problems.filter(({ code }) => code.startsWith("storage-") && code !== "storage-damaged").length;
  if (storage === problems.length) return "Your work is not kept in this browser at present.";
  if (storage > 0) return "The address was not understood in full, and your work is not kept in this browser.";
  if (problems.some(({ code }) => code === "too-long")) return "The address cannot hold the line as it stands.";
  return "Not all of what was left here or stands in the address could be used.";
}

function offerBefore({ line, notices }: Work, before: PageState): void {
  const called = before.line.kind === "own" ? before.line.name : shippedLine(before.line.name).title;
  const words = before.changes.length > 0 ? `, with ${counted(before.changes.length, "change")}` : "";
  notices.put("before", {
    title: `Last time you had “${shownTitle(called)}” in hand here${words}.`,
    actions: [{ label: "Bring it back", press: () => line.restore({ ...line.now.state, ...before }, "bring back") }],
    tone: "note",
  });
}
