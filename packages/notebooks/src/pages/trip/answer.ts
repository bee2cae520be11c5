import type { TripStudy } from "@railfault/sim";
import { tripData, tripFigure } from "@railfault/sim/figures";
import { el, setText } from "../../controls/index.ts";
import { figurePlace, issuesView } from "../../show/index.ts";
import type { StudyNow } from "./studies.ts";

/** The answer of a study: a tag, a sentence, why, and the picture of the band. */
export interface StudyView {
  readonly answer: HTMLElement;
  readonly figure: HTMLElement;
  show(now: StudyNow): void;
  leave(): void;
}

const tagOf = ({ exists, existsRss }: TripStudy): readonly [words: string, tone: string] => {
  if (exists) return ["There is a place", "safe"];
  return existsRss ? ["None in the worst case", "withstood"] : ["No place", "endangered"];
};

/**
 * @param label names the answer and the picture, for whoever does not see where they stand
 * @param awaited where no place is what usually comes: room for its reasons is kept from the beginning
 */
export function studyView(document: Document, label: string, awaited = false): StudyView {
  const tag = el(document, "strong", { class: "verdict-tag" }, "Computing");
  const headline = el(document, "p", { class: "verdict-headline" });
  const line = el(document, "div", { class: "verdict-line", role: "status" }, tag, headline);
  const reasons = el(document, "ul");
  const after = el(document, "div", { class: "verdict-after", hidden: true }, reasons);
  const issues = issuesView(document);
  const look = awaited ? "verdict awaited" : "verdict";
  const answer = el(document, "section", { class: look, "aria-label": label }, line, after, issues.element);
  const place = figurePlace<TripStudy>(document, {
    label: `${label}: the band`,
    draw: (study, drawing) => tripFigure(tripData(study), drawing),
    title: ({ title }) => `Where to set the trip: ${title}`,
    reserve: (width) => (width < 620 ? 900 : 540),
  });
  const put = (study: TripStudy): void => {
    const [words, tone] = tagOf(study);
    answer.dataset.tone = tone;
    setText(tag, words);
    setText(headline, study.headline);
    place.element.hidden = false;
    answer.classList.toggle("awaited", awaited && !study.exists);
    after.hidden = study.reasons.length === 0;
    reasons.replaceChildren(...study.reasons.map((reason) => el(document, "li", {}, reason)));
    place.show(study);
  };
  let shown: StudyNow["answer"] = null;
  return {
    answer,
    figure: place.element,
    show({ answer: found, busy, failure }) {
      place.busy(busy === "band");
      answer.setAttribute("aria-busy", String(busy !== null));
      if (failure !== null) setText(headline, failure);
      issues.show(found?.kind === "refused" ? found.issues : []);
      if (found === null || found === shown) return;
      shown = found;
      if (found.kind === "answered") {
        put(found.study);
        return;
      }
      answer.dataset.tone = "none";
      setText(tag, "Cannot be told");
      setText(headline, "This line cannot be asked for its trip point; below it stands why.");
      after.hidden = true;
      // A picture of another line must not be taken for this one's.
      place.element.hidden = true;
    },
    leave: () => place.leave(),
  };
}
