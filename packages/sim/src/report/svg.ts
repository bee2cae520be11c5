import { faultFigure } from "./figure/fault-figure.ts";
import type { FigureOptions, WaveformData } from "./figure/types.ts";
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
