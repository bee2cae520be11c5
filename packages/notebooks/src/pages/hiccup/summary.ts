import { el, setText } from "../../controls/index.ts";
import { toneOf } from "./card.ts";
import { blows } from "./outcome-types.ts";
import { dangerOf } from "./peak.ts";
import type { StyleTold } from "./style-told.ts";
import { listed, small, whole } from "./words.ts";

/** What is told of a style, with its name. */
export interface Told extends StyleTold {
  readonly label: string;
  readonly style: string;
}

/** The answer of the page: what ends the fault, whether a radio is in danger, what may burn. */
export function summaryView(document: Document) {
  const tag = el(document, "strong", { class: "verdict-tag" });
  const headline = el(document, "p", { class: "verdict-headline" });
  const chip = (): HTMLElement => el(document, "strong", { class: "state-tag", hidden: true });
  const sentence = (): HTMLElement => el(document, "p", { class: "run-danger", hidden: true });
  const [danger, burns] = [0, 1].map(() => ({ tag: chip(), sentence: sentence() }));
  const line = el(
    document,
    "div",
    { class: "verdict-line run-verdict", role: "status" },
    tag,
    headline,
    danger.tag,
    danger.sentence,
    burns.tag,
    burns.sentence,
  );
  const element = el(document, "section", { class: "verdict", "aria-label": "What ends the fault" }, line);
  setText(tag, "Computing");
  const put = (place: typeof danger, told: ReturnType<typeof dangerOf> | null): void => {
    place.tag.hidden = place.sentence.hidden = told === null;
    if (told === null) return;
    place.tag.dataset.tone = told.tone;
    setText(place.tag, told.tag);
    setText(place.sentence, whole(told.sentence));
  };
  return {
    element,
    show(told: readonly Told[]): void {
      const theme = told.find(({ style }) => style === "hiccup") ?? told[0];
      element.dataset.tone = toneOf(theme.outcome);
      setText(tag, whole(theme.outcome.tag));
      setText(headline, whole(sumUp(told)));
      const seen = told.flatMap(({ label, seen }) => (seen === null ? [] : [{ label, seen }]));
      put(danger, seen.length === 0 ? null : dangerOf(seen));
      put(burns, burning(told));
    },
  };
}

/** How many styles blow the fuse, and what the one that this page is about does. */
export function sumUp(told: readonly Told[]): string {
  const blown = told.filter(({ outcome }) => blows(outcome) || outcome.tag === "Fuse blown");
  const names = listed(blown.map(({ label }) => label.toLowerCase()));
  const open = told.some(({ outcome }) => outcome.ending === "watched");
  const of = `${told.length} limit styles`;
  const first =
    blown.length === 0
      ? `None of these ${of} ${open ? "has blown the fuse so far" : "blows the fuse"}.`
      : blown.length === told.length
        ? `The fuse blows with each of these ${of}.`
        : `${open ? "So far the" : "The"} fuse blows with ${blown.length} of ${of}: ${names}.`;
  const bursting = told.filter(({ outcome }) => outcome.ending === "fuse bursts");
  const bursts =
    bursting.length === 0 ? "" : ` It may burst with ${listed(bursting.map(({ label }) => label.toLowerCase()))}.`;
  const hiccup = told.find(({ style }) => style === "hiccup");
  return hiccup === undefined
    ? `${first}${bursts}`
    : `${first}${bursts} With hiccup, ${small(hiccup.outcome.sentence)}`;
}

/** With which styles something may burn; null: with none. */
export function burning(told: readonly Told[]): ReturnType<typeof dangerOf> | null {
  const hot = told.flatMap(({ label, hazard }) => (hazard?.burns === true ? [{ label, tag: hazard.tag }] : []));
  if (hot.length === 0) return null;
  const parts = hot.map(({ tag }) => tag.replace(/^Fire hazard: /, ""));
  const alike = new Set(parts).size === 1;
  const each = hot.map(({ label }, i) => (alike ? small(label) : `${small(label)} (${parts[i]})`));
  const which = hot.length === told.length && alike ? `each of these ${told.length} limit styles` : listed(each);
  return {
    tag: "Fire hazard",
    tone: "endangered",
    sentence: `Something may burn with ${which}${alike ? `: ${parts[0]}` : ""}.`,
  };
}
