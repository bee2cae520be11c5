import { faultFigure } from "./figure/fault-figure.ts";
import type { FigureOptions, WaveformData } from "./figure/types.ts";
import { type FigureName, figureOfRun, type RunFigureOptions } from "./run-figures.ts";
import type { Answered } from "./run-scenario.ts";
import { svgText } from "./svg-text.ts";

/**
 * The fault figure as the text of an SVG file that stands for itself: name space, ground, alternative text, no fonts or
 * other files from outside. Node only.
 *
 * @param data as for `faultFigure`
 * @param options as for `faultFigure`, without the document
 * @throws RangeError as `faultFigure` does
 * @example await writeFile("fault.svg", await renderSvg(data, { scheme: "dark" }));
 */
export async function renderSvg(data: WaveformData, options: Omit<FigureOptions, "document"> = {}): Promise<string> {
  return svgText((document) => faultFigure(data, { ...options, document }));
}

/**
 * Any figure of a run as the text of an SVG file. Node only.
 *
 * @param name of the figure, as in `figures`
 * @param result of `runScenario` or `runFile`
 * @param options size and colours
 * @returns the text; null where the run has no such figure
 * @throws RangeError for an unknown name
 * @example await renderRunFigure("headroom", result, { size: "slide" })
 */
export async function renderRunFigure(
  name: FigureName,
  result: Answered,
  options: Omit<RunFigureOptions, "document"> = {},
): Promise<string | null> {
  const figure = figureOfRun(name, result);
  return "missing" in figure ? null : svgText((document) => figure.draw({ ...options, document }));
}
