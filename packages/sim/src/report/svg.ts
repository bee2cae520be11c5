import { faultFigure } from "./figure/fault-figure.ts";
import type { FigureOptions, WaveformData } from "./figure/types.ts";

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
  // Loading jsdom takes longer than most runs: only who wants a picture pays for it.
  const { JSDOM } = await import("jsdom");
  const { document, XMLSerializer } = new JSDOM("").window;
  const figure = faultFigure(data, { ...options, document });
  // HTML's own serialization knows entities that XML does not.
  return `${new XMLSerializer().serializeToString(figure)}\n`;
}
