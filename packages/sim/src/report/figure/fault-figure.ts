import { checkWaveformData } from "./check.ts";
import { type Composition, compose } from "./composition.ts";
import { currentPanel } from "./current-panel.ts";
import { describeRun } from "./describe.ts";
import { held } from "./held.ts";
import { type FigurePlaces, placesOf } from "./places.ts";
import { type PlanOptions, planOf } from "./plan.ts";
import type { TimeAxis } from "./time-axis.ts";
import { drawTimed } from "./time-figure.ts";
import type { FigureOptions, PanelName, WaveformData } from "./types.ts";
import { voltagePanel } from "./voltage-panel.ts";

const everyPanel: readonly PanelName[] = ["voltage", "current", "states"];
const headings = ["Voltage, V", "Current, A"];

/**
 * What the radio saw, what flowed and what each device did, under one time axis, as one SVG element.
 *
 * @param data SI units, times in s since the start of the run; an instant may stand twice
 * @param options the document to draw in, size in CSS pixels, colours, time scale, part of the run to show
 * @returns an element that is not yet part of the document; its `<title>` and `<desc>` tell what it shows. Marks of events are groups
 *   of class `event-mark` (above the plots) and `event` (in the list) whose `data-event` holds indices into `data.events`
 * @throws RangeError when the data are inconsistent or not finite, or the range is empty; all problems at once
 * @example container.append(faultFigure(data, { document, timeScale: "logarithmic" }));
 */
export function faultFigure(data: WaveformData, options: FigureOptions): SVGSVGElement {
  return placedFaultFigure(data, options).figure;
}

/**
 * The same figure together with where its parts stand, for overlays of a page: brush, cursor, focus of an event.
 *
 * @returns the figure and its places in CSS pixels of its own layout
 * @throws RangeError as `faultFigure` does
 * @example const { figure, places } = placedFaultFigure(data, { document, width: 720 });
 */
export function placedFaultFigure(
  data: WaveformData,
  options: FigureOptions,
): { readonly figure: SVGSVGElement; readonly places: FigurePlaces } {
  const composition = composed(data, options);
  const description = describeRun(data, composition.plan.axis, composition.list);
  const told = { title: data.title, description };
  const figure = drawTimed(options.document, options.id ?? "fault-figure", composition, told);
  return { figure, places: placesOf(composition) };
}

/**
 * Where the parts of `faultFigure` stand, drawn with the same data and options.
 *
 * @returns plot areas, event marks and list lines as rectangles, CSS pixels from the figure's top left corner
 * @throws RangeError as `faultFigure` does
 * @example const { plots, axis } = figurePlaces(data, { width: 720 });
 */
export function figurePlaces(data: WaveformData, options: PlanOptions = {}): FigurePlaces {
  return placesOf(composed(data, options));
}

/**
 * The time axis that `faultFigure` draws with the same data and options: for brushes and pointers in a page.
 * `position` and `invert` translate between s since the start of the run and CSS pixels from the figure's left edge.
 */
export function figureTimeAxis(data: WaveformData, options: PlanOptions): TimeAxis {
  checkWaveformData(data);
  return planOf(data, options, headings, namesOf(data)).axis;
}

function composed(given: WaveformData, options: PlanOptions & Pick<FigureOptions, "scheme">): Composition {
  checkWaveformData(given);
  const data = held(given, options.axes?.range[1] ?? null);
  const wanted = new Set(options.panels ?? everyPanel);
  const subject = {
    data,
    headings,
    names: namesOf(data),
    rows: wanted.has("states") ? data.states : [],
    panels: (axis: TimeAxis, look: Composition["look"]) => [
      ...(wanted.has("voltage") && data.voltages.length > 0
        ? [voltagePanel(data, axis, look, options.axes?.voltage ?? null)]
        : []),
      ...(wanted.has("current") && data.currents.length > 0
        ? [currentPanel(data, axis, look, options.axes?.current ?? null)]
        : []),
    ],
  };
  return compose(subject, options);
}

/** How long the names in the legends may become. */
function namesOf({ voltages, currents }: WaveformData): string[] {
  return [...voltages, ...currents].map(({ label }) => `${label}, peak 88.8 V`);
}
