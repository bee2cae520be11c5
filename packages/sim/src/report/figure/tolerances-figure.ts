import { drawLegend } from "./canvas.ts";
import { openPage, outer, type Page, planPage } from "./chart.ts";
import type { ChartOptions } from "./chart-types.ts";
import { factsTold } from "./describe.ts";
import type { Frame } from "./draw.ts";
import { drawHatches } from "./hatch.ts";
import { itemWidth, type LegendItem, type PlacedItem } from "./legend.ts";
import { formatNumber } from "./time-format.ts";
import { drawHistogram, drawInfluences } from "./tolerances-parts.ts";
import type { TolerancesData } from "./tolerances-types.ts";

/**
 * How sure one can be: how the load's peak and the time to the trip fall over many samples of scattered parts, and which values they
 * depend on.
 *
 * @param data bins, places on the axes, rank correlations
 * @param options the document to draw in, size in CSS pixels, colours
 * @returns an element that is not yet part of the document; its `<title>` and `<desc>` tell what it shows
 * @throws RangeError when a bin or a correlation is not finite; all problems at once
 * @example container.append(tolerancesFigure(tolerancesData(collected, summary), { document }));
 */
export function tolerancesFigure(data: TolerancesData, options: ChartOptions): SVGSVGElement {
  check(data);
  const page = planPage(data, options, "tolerances-figure");
  const layout = layOut(page, data);
  const svg = openPage(page, layout.height, description(data));
  const { colors } = page;
  const fills = [colors.loads[0], colors.currents[1]] as const;
  const hatches = drawHatches(svg, page.id, colors, fills);
  drawLegend(page, svg, layout.legend);
  for (const [k, panel] of data.panels.entries()) drawHistogram(page, svg, panel, layout.panels[k], hatches);
  drawInfluences(page, svg, data, layout.influences);
  return svg;
}

function check({ panels, influences }: TolerancesData): void {
  const problems = [
    ...panels.flatMap(({ title, bins, lines }) => [
      ...(bins.length === 0 ? [`"${title}" has no bins`] : []),
      ...(bins.every(({ from, to }) => Number.isFinite(from) && to > from)
        ? []
        : [`"${title}" has a bin without width`]),
      ...(lines.every(({ value }) => Number.isFinite(value)) ? [] : [`"${title}" has a line that is not finite`]),
    ]),
    ...influences
      .filter(({ value }) => !(Math.abs(value) <= 1))
      .map(({ label }) => `the correlation of "${label}" does not lie between −1 and 1`),
  ];
  if (problems.length > 0) throw new RangeError(`these data cannot be drawn: ${problems.join("; ")}`);
}

function description(data: TolerancesData): string {
  const panels = data.panels.map(({ title, bins, lines, note }) => {
    const total = (from: number, to: number): number =>
      bins.slice(from, to).reduce((sum, { safe, endangered }) => sum + safe + endangered, 0);
    const [first, last] = [bins[0], bins[bins.length - 1]];
    const places = lines.map(({ label, value }) => `${label} ${formatNumber(value, 4)}`).join(", ");
    const count = total(0, bins.length);
    return `${title}: ${count} ${count === 1 ? "sample" : "samples"} from ${formatNumber(first.from, 4)} to ${formatNumber(last.to, 4)}${places === "" ? "" : `; ${places}`}.${note === "" ? "" : ` ${note}.`}`;
  });
  const told = data.influences.map(({ label, value }) => `${label} ${formatNumber(value, 2)}`);
  return [
    data.subtitle,
    ...factsTold(data),
    ...panels,
    ...(told.length === 0 ? [] : [`Rank correlation with the load's peak: ${told.join(", ")}.`]),
  ].join(" ");
}

interface Layout {
  readonly height: number;
  readonly legend: readonly PlacedItem[];
  readonly panels: readonly Frame[];
  readonly influences: Frame;
}

/** Room above a panel for its heading and names of lines, and below it for its axis. */
const ABOVE = 50;
const BELOW = 34;

function layOut(page: Page, { panels, influences }: TolerancesData): Layout {
  const { narrow, left, right, top } = page;
  const items: LegendItem[] = [
    {
      text: "load safe",
      value: null,
      color: page.colors.loads[0],
      sample: { kind: "area", fill: page.colors.loads[0] },
    },
    {
      text: "load above its maximum",
      value: null,
      color: page.colors.exceedanceInk,
      sample: { kind: "area", fill: page.colors.currents[1] },
    },
  ];
  const legend = items.map((item, k) => ({
    item,
    lines: [item.text],
    x: left + (k === 0 ? 0 : itemWidth(items[0]) + 24),
    y: top + 6,
  }));
  const from = top + 14;
  const rows = Math.max(1, influences.length);
  if (narrow) {
    const frames = panels.map((_, k) => {
      const start = from + k * (ABOVE + 130 + BELOW) + ABOVE;
      return { left: left + 34, right, top: start, bottom: start + 130 };
    });
    const start = from + panels.length * (ABOVE + 130 + BELOW) + 46;
    const bottom = start + rows * 40;
    return {
      height: Math.ceil(bottom + 30 + outer),
      legend,
      panels: frames,
      influences: { left, right, top: start, bottom },
    };
  }
  const middle = left + Math.round((right - left) * 0.56);
  const bottom = Math.max(page.height - outer, from + panels.length * (ABOVE + 80 + BELOW));
  const each = (bottom - from) / Math.max(1, panels.length);
  const frames = panels.map((_, k) => ({
    left: left + 40,
    right: middle - 24,
    top: from + k * each + ABOVE,
    bottom: from + (k + 1) * each - BELOW,
  }));
  const pitch = Math.min(38, (bottom - from - 86) / rows);
  const start = from + 46;
  return {
    height: Math.ceil(bottom + outer),
    legend,
    panels: frames,
    influences: { left: middle + 8, right, top: start, bottom: start + pitch * rows },
  };
}
