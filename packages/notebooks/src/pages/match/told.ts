import {
  asItStands,
  type Combination,
  factSentences,
  type MatchAnswer,
  matchReasons,
  shortList,
  soundSentences,
} from "@railfault/sim";
import { el } from "../../controls/index.ts";

/** Whether and what: the tag above the headline. */
export function tagOf(answer: MatchAnswer): { readonly tag: string; readonly tone: string } {
  if (answer.sound.length === 0)
    return answer.stopped ? { tag: "Stopped", tone: "none" } : { tag: "Nothing fits", tone: "endangered" };
  if (answer.sound.some(asItStands)) return { tag: "Yours fits", tone: "safe" };
  if (answer.sound.some(({ changed }) => changed === 0)) return { tag: "Yours fits, with a change", tone: "withstood" };
  return { tag: "Yours does not fit", tone: "withstood" };
}

/** What the line asks of its parts, as a list. */
export function factsList(answer: MatchAnswer): HTMLElement {
  return el(
    document,
    "ul",
    { class: "facts" },
    ...factSentences(answer.facts).map((text) => el(document, "li", {}, text)),
  );
}

/** What the full run of a combination showed. */
export function foundOf(answer: MatchAnswer, chosen: Combination): HTMLElement {
  const thicker = shortList(answer).find(({ combination }) => combination.id === chosen.id)?.thicker ?? [];
  const sentences = chosen.outcome?.sound === true ? soundSentences(chosen, thicker) : whyNot(answer, chosen);
  const items = sentences.map((text) => el(document, "li", {}, text));
  const kept = chosen.checks.filter(({ kept }) => kept).map(({ sentence }) => el(document, "li", {}, sentence));
  return el(
    document,
    "div",
    {},
    el(document, "ul", {}, ...items),
    el(
      document,
      "details",
      { class: "more" },
      el(document, "summary", {}, "The rules that it keeps, with their numbers"),
      el(document, "ul", {}, ...kept),
    ),
  );
}

/** What speaks against a combination that is not sound; where nothing is, what would help. */
function whyNot(answer: MatchAnswer, { fuse, scr, wire, checks, outcome }: Combination): readonly string[] {
  const alone = [
    ...answer.fuses.filter(({ name }) => name === fuse),
    ...answer.scrs.filter(({ name }) => name === scr),
    ...answer.wires.filter(({ name }) => name === wire),
  ].flatMap((part) => part.checks);
  const broken = [...alone, ...checks].filter(({ kept }) => !kept).map(({ sentence }) => sentence);
  const remedy = answer.remedy === null ? [] : [answer.remedy.sentence];
  return [...broken, ...(outcome?.reasons ?? []), ...remedy];
}

/** Why the others fell out, under headings that fold. */
export function reasonsView(answer: MatchAnswer): HTMLElement[] {
  return matchReasons(answer).map(({ title, items }) =>
    el(
      document,
      "details",
      { class: "more" },
      el(document, "summary", {}, title, el(document, "span", { class: "count" }, String(items.length))),
      el(document, "ul", {}, ...items.map((text) => el(document, "li", {}, text))),
    ),
  );
}
