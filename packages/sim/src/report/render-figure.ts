import { headroomFigure } from "./figure/headroom-figure.ts";
import { surgeBarsFigure } from "./figure/surge-figure.ts";
import { timeCurrentFigure } from "./figure/time-current-figure.ts";
import { figureData } from "./figure-data.ts";
import { headroomData } from "./figure-data-headroom.ts";
import { surgeData } from "./figure-data-surge.ts";
import { timeCurrentData } from "./figure-data-time-current.ts";
import type { Answered } from "./run-scenario.ts";
import { renderSvg } from "./svg.ts";
import { svgText } from "./svg-text.ts";

/** What a picture of a run may show. */
export type FigureName = "fault" | "headroom" | "time-current" | "surge";

/**
 * One figure of a run as the text of an SVG file, or why this run has none. Node only.
 *
 * @example await renderFigure("headroom", result)
 */
export async function renderFigure(
  name: FigureName,
  { run, verdict, parsed }: Answered,
): Promise<{ readonly svg: string } | { readonly missing: string }> {
  if (name === "fault") return { svg: await renderSvg(figureData(run, verdict)) };
  if (verdict.kind === "not a verdict") return { missing: `there is no ${name} figure of a run without a verdict` };
  if (name === "headroom") {
    const data = headroomData(verdict);
    if (data.limits.length === 0) return { missing: "nothing in this run has a limit that could be drawn" };
    return { svg: await svgText((document) => headroomFigure(data, { document })) };
  }
  if (name === "surge") {
    const data = surgeData(run, verdict);
    if (data === null) return { missing: "no SCR fired in this run, so there is no surge to draw" };
    return { svg: await svgText((document) => surgeBarsFigure(data, { document })) };
  }
  const data = timeCurrentData(run, verdict, parsed.fits);
  if (data === null) return { missing: "this line has neither fuse nor SCR, so there are no curves to draw" };
  return { svg: await svgText((document) => timeCurrentFigure(data, { document })) };
}
