import type { Judged, NotJudged, Verdict } from "@railfault/sim";
import { formatQuantity } from "@railfault/sim";
import { el, setText } from "../controls/index.ts";
import { afterwardsOf, besideOf } from "./beside.ts";
import { headroomTable } from "./headroom-table.ts";
import { sinceZero } from "./reading.ts";
import { type Tag, tagOf } from "./tags.ts";
import { unbroken } from "./words.ts";

export interface VerdictView {
  readonly element: HTMLElement;
  /** Null clears it: there is no run yet, or, for a `reason`, none at all. What was opened stays open. */
  show(verdict: Verdict | null, reason?: string): void;
  /** A run is on its way: the old verdict stays, paler. */
  busy(running: boolean): void;
}

type Body = readonly (Node | null)[];

/**
 * The verdict's own sentences: the answer first with a written tag, beside it what else burns or is not over yet, then what the protection did and what was hurt; the rest on request.
 *
 * @param options `parts`: `answer` alone, `rest` without it, or all; `label` tells several on one page apart
 * @example const verdict = verdictView(document); verdict.show(answered.verdict);
 */
export function verdictView(
  document: Document,
  options: { readonly parts?: "answer" | "rest" | "all"; readonly label?: string } = {},
): VerdictView {
  const wanted = options.parts ?? "all";
  const badges = el(document, "div", { class: "verdict-badges" });
  const headline = el(document, "p", { class: "verdict-headline" });
  const after = el(document, "div", { class: "verdict-after" });
  const answer = el(
    document,
    "div",
    { class: "verdict-line", role: "status", "aria-live": "polite" },
    badges,
    headline,
    after,
  );
  const summary = el(document, "div", { class: "verdict-parts" });
  const more = el(document, "div", { class: "verdict-more" });
  const element = el(document, "section", {
    class: "verdict",
    "aria-label": options.label ?? (wanted === "rest" ? "Verdict in detail" : "Verdict"),
  });
  if (wanted !== "rest") element.append(answer);
  if (wanted !== "answer") element.append(summary, more);
  const folds = new Map<string, HTMLDetailsElement>();

  const fold = (title: string, count: number | null, body: Body): Node | null => {
    const there = body.filter((node) => node !== null);
    if (there.length === 0) return null;
    const details = folds.get(title) ?? el(document, "details", { class: "more" });
    folds.set(title, details);
    const counted = count === null ? null : el(document, "span", { class: "count" }, String(count));
    details.replaceChildren(el(document, "summary", {}, title, counted), ...there);
    return details;
  };

  return {
    element,
    show(verdict, reason) {
      const none = reason === undefined ? "No verdict yet" : "No verdict";
      const first: Tag = verdict === null ? { tone: "none", words: none } : tagOf(verdict);
      element.dataset.tone = first.tone;
      badgesIn(document, badges, [first, ...(verdict === null ? [] : besideOf(verdict))]);
      fillLines(document, after, verdict);
      setText(headline, unbroken(verdict?.headline ?? reason ?? "The first run is on its way."));
      if (wanted === "answer") return;
      fill(summary, verdict === null ? [] : summaryOf(document, verdict));
      fill(more, verdict === null ? [] : restOf(document, verdict, fold));
    },
    busy(running) {
      element.setAttribute("aria-busy", String(running));
    },
  };
}

/** A badge that stays the same is left alone: what is written anew is read aloud anew. */
function badgesIn(document: Document, row: HTMLElement, tags: readonly Tag[]): void {
  while (row.children.length > tags.length) row.lastElementChild?.remove();
  for (const [index, { tone, words }] of tags.entries()) {
    const badge = row.children.item(index) ?? row.appendChild(el(document, "strong", { class: "verdict-tag" }));
    badge.setAttribute("data-tone", tone);
    setText(badge, words);
  }
}

/** What becomes of the radio's supply, and what is not over yet. */
function fillLines(document: Document, parent: HTMLElement, verdict: Verdict | null): void {
  const after = verdict?.kind === "verdict" ? afterwardsOf(verdict) : null;
  const lines = [
    ...(after === null
      ? []
      : [el(document, "p", {}, chip(document, after.tone, after.words), " ", unbroken(after.sentence))]),
    ...pendingLines(document, verdict),
  ];
  putLines(parent, lines);
}

const chip = (document: Document, tone: string, words: string) =>
  el(document, "span", { class: "state-tag", "data-tone": tone }, words);

/** What is not over yet, one paragraph each. */
export function pendingLines(document: Document, verdict: Verdict | null): HTMLElement[] {
  const pending = verdict?.kind === "verdict" ? verdict.pending : [];
  return pending.map(({ sentence, passesRating }) =>
    el(
      document,
      "p",
      { class: passesRating ? "verdict-pending urgent" : "verdict-pending" },
      chip(document, passesRating ? "endangered" : "close", "Not over yet"),
      " ",
      unbroken(sentence),
    ),
  );
}

/** Said again only where it is another. */
export function putLines(parent: Element, lines: readonly HTMLElement[]): void {
  const same =
    parent.children.length === lines.length && lines.every((line, i) => line.isEqualNode(parent.children[i]));
  if (!same) parent.replaceChildren(...lines);
}

function fill(parent: Element, body: Body): void {
  parent.replaceChildren(...body.filter((node) => node !== null));
}

function list(document: Document, items: readonly string[], kind: "ul" | "ol" = "ul"): HTMLElement {
  return el(document, kind, {}, ...items.map((item) => el(document, "li", {}, unbroken(item))));
}

function section(document: Document, title: string, items: readonly string[], kind: "ul" | "ol" | "hurt" = "ul") {
  if (items.length === 0) return null;
  const body = list(document, items, kind === "ol" ? "ol" : "ul");
  return el(document, "section", kind === "hurt" ? { class: "hurt" } : {}, el(document, "h3", {}, title), body);
}

function summaryOf(document: Document, verdict: Verdict): Body {
  return verdict.kind === "verdict" ? judged(document, verdict) : notJudged(document, verdict);
}

const worstFirst = ["beyond", "unknown", "used up"] as const;

function judged(document: Document, verdict: Judged): Body {
  const starved = verdict.loads.flatMap((load) => (load.starved === null ? [] : [load.starved.sentence]));
  const each = verdict.loads.length > 1 ? verdict.loads.map(({ sentence }) => sentence) : [];
  const hurt = worstFirst.flatMap((worst) => verdict.findings.filter(({ severity }) => severity === worst));
  const sentences = (rows: readonly { readonly sentence: string }[]) => rows.map(({ sentence }) => sentence);
  return [
    section(document, "Too close to call", sentences(verdict.tooClose)),
    section(document, verdict.loads.length > 1 ? "What each radio saw" : "What the radio saw", [...each, ...starved]),
    section(document, "What the protection did", verdict.done),
    hurt.length === 0
      ? section(document, "What else was hurt", [
          `Nothing went beyond its rating${verdict.pending.length === 0 ? "" : " in this run"}.`,
        ])
      : section(document, "What else was hurt or may burn", sentences(hurt), "hurt"),
    section(document, "Not over yet", sentences(verdict.pending)),
    section(document, "Repeated tripping", sentences(verdict.tripping)),
    section(document, "Before the next use, in this order", verdict.replace, "ol"),
  ];
}

function notJudged(document: Document, verdict: NotJudged): Body {
  const reached = formatQuantity(verdict.timeReached, "time", { digits: 4 });
  return [
    section(document, "What happened", [
      `The run reached ${reached}. What it found until then is no basis for a verdict: take the radio as unprotected.`,
      ...(verdict.device === null ? [] : [`Responsible: ${verdict.device}.`]),
    ]),
    section(document, "What to try", [verdict.remedy]),
  ];
}

type Fold = (title: string, count: number | null, body: Body) => Node | null;

function restOf(document: Document, verdict: Verdict, fold: Fold): Body {
  const { assumptions, warnings, energy } = verdict;
  const folded = (title: string, items: readonly string[]) =>
    fold(title, items.length, items.length === 0 ? [] : [list(document, items)]);
  const share = `${energy.closes ? "It closes" : "It does not close"}: ${energy.relative.toExponential(1)} of the energy turned over is unaccounted for.`;
  return [
    ...(verdict.kind === "verdict" ? judgedRest(document, verdict, fold, folded) : []),
    folded(
      "Warnings about the scenario",
      warnings.map(({ message, hint }) =>
        hint === null ? message : `${message} Remedy: ${hint.replace(/\.?$/, ".")}`,
      ),
    ),
    folded(
      "Assumed, because nobody gave it",
      assumptions.map(({ label, value, source }) => `${label}: ${value}${source === "" ? "" : ` (${source})`}`),
    ),
    fold("Energy balance", null, [el(document, "p", {}, share)]),
  ];
}

function judgedRest(
  document: Document,
  verdict: Judged,
  fold: Fold,
  folded: (title: string, items: readonly string[]) => Node | null,
): Body {
  const longRun = verdict.tripping.flatMap(({ longRun, fatigue }) => [
    ...longRun,
    ...fatigue.map(({ sentence }) => sentence),
  ]);
  const rows = [...verdict.loads.flatMap(({ limits }) => limits), ...verdict.findings];
  // Counted as the pictures count.
  const fault = verdict.reasons.find(({ sentence }) => sentence.startsWith("The fault strikes"));
  const at = (time: number): string =>
    sinceZero(time - (fault?.time ?? 0), { zero: fault === undefined ? "start" : "fault" }).replace(/^a/, "A");
  return [
    folded("Good to know", verdict.notes),
    folded("In the long run (an estimate: the last cycle going on for ever)", longRun),
    folded(
      "Why, event by event",
      verdict.reasons.map(({ time, sentence }) => `${at(time)}: ${sentence}`),
    ),
    fold("Headroom of every limit", rows.length, rows.length === 0 ? [] : [headroomTable(document, rows)]),
  ];
}
