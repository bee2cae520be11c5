import { faultFigure } from "../../report/figure/fault-figure.ts";
import { multiplesFigure } from "../../report/figure/multiples-figure.ts";
import { sharedAxes } from "../../report/figure/shared-axes.ts";
import type { PictureOptions } from "../../report/figure/types.ts";
import { multiplesData, overlayData } from "./figure-data.ts";
import type { Comparison } from "./types.ts";

/** The pictures of a comparison: small figures with the same axes, or all lines in one. */
export type CompareFigure = "multiples" | "overlay";

/**
 * A picture of a comparison.
 *
 * @param figure which one
 * @param options the document to draw in, size in CSS pixels, colours
 * @param names which lines, in which order; left out: all, the best first
 * @returns an element that is not yet part of the document; null where no line has a verdict and waveforms
 * @example
 * const overlay = compareFigure("overlay", found, { document, width: 720 });
 * if (overlay !== null) container.append(overlay);
 */
export function compareFigure(
  figure: CompareFigure,
  comparison: Comparison,
  options: PictureOptions,
  names?: readonly string[],
): SVGSVGElement | null {
  const side = multiplesData(comparison, names);
  if (side === null) return null;
  if (figure === "multiples") return multiplesFigure(side, options);
  const data = overlayData(comparison, names);
  if (data === null) return null;
  const shared = sharedAxes(side.panels.map((panel) => ({ ...panel.data, states: [] })));
  // The times are those of the lines; the voltages are the loads' alone.
  const axes = { ...shared, voltage: null, current: null, devices: [], rows: 0 };
  return faultFigure(data, { id: "overlay-figure", ...options, panels: ["voltage"], axes });
}
