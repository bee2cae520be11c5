import { checkHeat } from "./check.ts";
import { compose } from "./composition.ts";
import { eventsTold, factsTold, spanInWords } from "./describe.ts";
import type { EventList } from "./events.ts";
import type { HeatData, HeatOptions } from "./heat-types.ts";
import { type LimitedCurve, limitedPanel } from "./limited-panel.ts";
import type { Look } from "./palette.ts";
import type { TimeAxis } from "./time-axis.ts";
import { drawTimed } from "./time-figure.ts";
import { formatNumber } from "./time-format.ts";

const headings = ["Junction, °C", "To melting, %"];

/**
 * How hot each junction grew and how far each fuse was on its way to melting, over time, with their limits.
 *
 * @param data temperatures in °C, ways to melting as shares, times in s since the start of the run
 * @param options the document to draw in, size in CSS pixels, colours, time scale, part of the run to show
 * @returns an element that is not yet part of the document; its `<title>` and `<desc>` tell what it shows
 * @throws RangeError when the data are inconsistent or not finite, or the range is empty; all problems at once
 * @example
 * const shown = heatData(run, verdict);
 * if (shown !== null) container.append(heatFigure(shown, { document, timeScale: "logarithmic" }));
 */
export function heatFigure(data: HeatData, options: HeatOptions): SVGSVGElement {
  checkHeat(data);
  const percent = data.melting.map((curve) => ({
    ...curve,
    values: curve.values.map((share) => 100 * share),
    limits: curve.limits.map((limit) => ({ ...limit, value: 100 * limit.value })),
  }));
  const composition = compose(
    {
      data: { ...data, states: [] },
      headings,
      names: [...data.temperatures, ...data.melting].map(({ label }) => `${label}, peak 188.8 °C`),
      rows: [],
      panels: (axis, look) => panelsOf(data, percent, axis, look),
    },
    options,
  );
  const description = describe(data, percent, composition.plan.axis, composition.list);
  const told = { title: data.title, description };
  return drawTimed(options.document, options.id ?? "heat-figure", composition, told);
}

function panelsOf(data: HeatData, percent: readonly LimitedCurve[], axis: TimeAxis, look: Look) {
  const common = { share: 0.5, compresses: false };
  // A destroyed junction goes on heating in the model alone.
  const destroyed = Math.max(...data.temperatures.flatMap(({ limits }) => limits.map(({ value }) => value)));
  const ceiling = Number.isFinite(destroyed) ? 1.5 * destroyed : null;
  // Beyond the rating stands what destroys: worth a line only where it came near.
  const heat = {
    name: "temperature",
    heading: headings[0],
    unit: "°C",
    floor: data.ambient,
    ceiling,
    reach: 2.5,
    order: 0,
  };
  const way = { name: "melting", heading: headings[1], unit: "%", floor: 0, ceiling: null, reach: Infinity };
  const panel = (content: Omit<Parameters<typeof limitedPanel>[0], "share" | "compresses">) =>
    limitedPanel({ ...common, ...content }, data.time, axis, look, null);
  return [
    ...(data.temperatures.length > 0 ? [panel({ ...heat, curves: data.temperatures })] : []),
    ...(percent.length > 0 ? [panel({ ...way, curves: percent, order: data.temperatures.length })] : []),
  ];
}

function describe(data: HeatData, percent: readonly LimitedCurve[], axis: TimeAxis, list: EventList): string {
  const zero = data.zero ?? "fault";
  const told = (curves: readonly LimitedCurve[], unit: string) =>
    curves.map(({ label, values, limits }) => {
      const most = values.reduce((highest, value) => Math.max(highest, value), -Infinity);
      const levels = limits.map((limit) => `, ${limit.label} ${formatNumber(limit.value)} ${unit}`).join("");
      return `${label}: at most ${formatNumber(most)} ${unit}${levels}.`;
    });
  return [
    data.subtitle,
    ...factsTold(data),
    `Junction temperatures and the fuses' way to melting over ${spanInWords(data, axis)}, on a ${axis.kind} time axis.`,
    ...told(data.temperatures, "°C"),
    ...told(percent, "%"),
    ...eventsTold(list, zero),
  ].join(" ");
}
