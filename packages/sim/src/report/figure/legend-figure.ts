import { drawLegend } from "./canvas.ts";
import { checkWaveformData } from "./check.ts";
import { currentPanel } from "./current-panel.ts";
import { add, createSvg } from "./draw.ts";
import { figureTimeAxis } from "./fault-figure.ts";
import { flowLegend, type LegendItem } from "./legend.ts";
import { palette } from "./palette.ts";
import { extentOf } from "./size.ts";
import { fontFamily } from "./text.ts";
import type { FigureOptions, WaveformData } from "./types.ts";
import { voltagePanel } from "./voltage-panel.ts";

/**
 * What the lines and areas of several bare figures mean, told once for all of them.
 *
 * @param data of any of them; peaks are not told, as they differ
 * @param options the document to draw in, width in CSS pixels, colours, which panels, and the axes that the figures share
 * @returns an element that is not yet part of the document; empty of items where nothing is drawn
 * @throws RangeError as `faultFigure` does
 * @example container.append(legendFigure(several[0], { document, width: 720, panels: ["voltage"] }));
 */
export function legendFigure(data: WaveformData, options: FigureOptions): SVGSVGElement {
  checkWaveformData(data);
  const { width, scale, weight } = extentOf(options);
  const colors = palette(options.scheme ?? "light");
  const items = itemsOf(data, options, { colors, weight });
  const { placed, height } = flowLegend(items, 6, width - 6, 4);
  const id = options.id ?? "figure-legend";
  const title = `${id}-title`;
  const svg = createSvg(options.document, {
    width: width * scale,
    height: (height + 8) * scale,
    viewBox: `0 0 ${width} ${height + 8}`,
    role: "img",
    "aria-labelledby": title,
    "font-family": fontFamily,
    color: colors.ink,
  });
  add(svg, "title", { id: title }, `What the lines mean: ${items.map(({ text }) => text).join(", ")}`);
  add(svg, "rect", { class: "ground", width, height: height + 8, fill: colors.ground });
  drawLegend({ colors }, add(svg, "g", { class: "legend" }), placed);
  return svg;
}

type Look = Parameters<typeof voltagePanel>[2];

function itemsOf(data: WaveformData, options: FigureOptions, look: Look): LegendItem[] {
  const axis = figureTimeAxis(data, options);
  const wanted = options.panels ?? ["voltage", "current"];
  const plain = { ...data, states: [] };
  const voltages = wanted.includes("voltage")
    ? voltagePanel(plain, axis, look, options.axes?.voltage ?? null).legend
    : [];
  const currents = wanted.includes("current")
    ? currentPanel(plain, axis, look, options.axes?.current ?? null).legend
    : [];
  const labels = new Map([...data.voltages, ...data.currents].map(({ label }) => [`${label}, peak`, label]));
  return [...voltages, ...currents].map((item) => {
    const known = [...labels].find(([start]) => item.text.startsWith(start));
    return known === undefined ? item : { ...item, text: known[1] };
  });
}
