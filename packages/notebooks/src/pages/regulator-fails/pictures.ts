import { type FigureName, type FigureOfRun, figures, type RunFigure } from "@railfault/sim/figures";
import { el, setText } from "../../controls/index.ts";
import type { Answer } from "../../run/protocol.ts";
import { type FigurePlace, figurePlace } from "../../show/index.ts";

/** Something on the page that shows a run. */
export interface Shows<Of = Answer> {
  readonly element: HTMLElement;
  show(what: Of): void;
  leave(): void;
}

/**
 * Further pictures of a run, each folded away behind its question and drawn only while it is open.
 *
 * @example const more = morePictures(["time-current", "heat"]); more.show(answer);
 */
export function morePictures(names: readonly FigureName[]): Shows {
  const folds = figures.filter(({ name }) => names.includes(name)).map(foldedPicture);
  return {
    element: el(document, "div", { class: "more-pictures" }, ...folds.map(({ element }) => element)),
    show: (answer) => {
      for (const fold of folds) fold.show(answer);
    },
    leave: () => {
      for (const fold of folds) fold.leave();
    },
  };
}

/** Room kept while an opened picture is drawn; most are higher, and nothing is lost when they grow. CSS pixels. */
const LEAST_HEIGHT = 400;

function foldedPicture({ question, shows, of }: RunFigure): Shows {
  const missing = el(document, "p", { class: "aside", hidden: true });
  const element = el(document, "details", { class: "more" }, el(document, "summary", {}, question), missing);
  let newest: Answer | null = null;
  let drawn: Answer | null = null;
  let place: FigurePlace<FigureOfRun> | null = null;

  const draw = (): void => {
    if (!element.open || newest === null || newest === drawn) return;
    drawn = newest;
    const figure = of({ run: newest.run, verdict: newest.verdict, fits: newest.parsed.fits });
    const nothing = "missing" in figure;
    setText(missing, nothing ? `There is no such picture now: ${figure.missing}.` : "");
    missing.hidden = !nothing;
    if (place !== null) place.element.hidden = nothing;
    if (nothing) return;
    if (place === null) {
      place = figurePlace<FigureOfRun>(document, {
        label: shows,
        reserve: (width) => (width < 620 ? width : LEAST_HEIGHT),
        title: ({ title }) => `${title}, ${shows}`,
        draw: (data, drawing) => data.draw(drawing),
        csv: (data) => data.csv(),
      });
      element.append(place.element);
    }
    place.show(figure);
  };
  element.addEventListener("toggle", draw);
  return {
    element,
    show: (answer) => {
      newest = answer;
      draw();
    },
    leave: () => place?.leave(),
  };
}
