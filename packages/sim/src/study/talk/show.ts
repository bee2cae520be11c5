import type { ChartOptions } from "../../report/figure/chart-types.ts";
import { lineDiagram } from "../../report/figure/line/diagram.ts";
import { stepFigure, wordsFigure } from "../../report/figure/step-figure.ts";
import { figureData } from "../../report/figure-data.ts";
import { lineDiagramData } from "../../report/line-data.ts";
import { type FigureName, figureOfRun, figures } from "../../report/run-figures.ts";
import { capital } from "../../verdict/words.ts";
import type { TalkPart } from "./slides.ts";
import type { Slide } from "./types.ts";

/**
 * The picture of one slide, with the slide's own headline and sentence above it.
 *
 * @param parts the talk's scenarios
 * @param slide which; `part` counts them from 0
 * @param options the document to draw in, size (a talk's is `slide`), colours
 * @returns an element that is not yet part of the document
 * @throws RangeError for a part, a figure or a time that does not exist: all that is allowed is named
 * @example slideFigure(parts, slides[2], { document, size: "slide", scheme: "dark" })
 */
export function slideFigure(parts: readonly TalkPart[], slide: Slide, options: ChartOptions): SVGSVGElement {
  const part = parts[slide.part];
  if (part === undefined)
    throw new RangeError(`a slide shows scenario ${slide.part}; there are ${parts.length}, counted from 0`);
  const { parsed, run, verdict } = part.answered;
  const { shows, headline: title, sentence: subtitle } = slide;
  if (shows.kind === "line")
    return lineDiagram(lineDiagramData(parsed, { run, time: shows.time, title, subtitle }), options);
  if (shows.kind === "words") return wordsFigure({ title, subtitle, lines: shows.lines }, options);
  if (shows.kind === "step") {
    const line = lineDiagramData(parsed, { run, time: shows.time });
    const waveform = figureData(run, verdict);
    const { range, time, event } = shows;
    return stepFigure({ title, subtitle, waveform, range, line, later: time - event, event }, options);
  }
  const name = figures.find((each) => each.name === shows.name)?.name;
  if (name === undefined)
    throw new RangeError(
      `there is no figure "${shows.name}"; known are ${figures.map((each) => each.name).join(", ")}`,
    );
  return figureUnder(name, part, { title, subtitle }, options);
}

function figureUnder(
  name: FigureName,
  { answered }: TalkPart,
  heading: { readonly title: string; readonly subtitle: string },
  options: ChartOptions,
): SVGSVGElement {
  const found = figureOfRun(name, answered);
  if ("missing" in found) return wordsFigure({ ...heading, lines: [`${capital(found.missing)}.`] }, options);
  return found.draw({ ...options, heading });
}
