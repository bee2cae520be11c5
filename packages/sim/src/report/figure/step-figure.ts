import { write } from "./canvas.ts";
import { openPage, outer, type Page, planPage } from "./chart.ts";
import type { ChartOptions } from "./chart-types.ts";
import { factsTold } from "./describe.ts";
import { add, rounded } from "./draw.ts";
import { faultFigure } from "./fault-figure.ts";
import { placeBeside } from "./line/beside.ts";
import type { StepData, WordsData } from "./step-types.ts";
import { shorten, wrap } from "./text.ts";
import { formatTime } from "./time-format.ts";
import type { WaveformData } from "./types.ts";

/** Of the width, for the line beside the picture. */
const lineShare = 0.33;
/** Narrower, the states that are written there would be cut. */
const lineLeast = 250;
/** Above it stands when it is seen. */
const whenHeight = 18;

/**
 * One step of a fault: the voltages and currents so far, and beside them (on a phone below) the line with its states at that instant.
 *
 * @param data the whole run's waveforms, what of them is shown, the line
 * @param options the document to draw in, size in CSS pixels, colours
 * @returns an element that is not yet part of the document; its `<title>` and `<desc>` tell what it shows
 * @throws RangeError as `faultFigure` does
 * @example
 * const line = lineDiagramData(result.parsed, { run: result.run, time: 0.021 });
 * const waveform = figureData(run, verdict);
 * stepFigure({ title: "The SCR fires", subtitle: "", waveform, range: [0, 0.021], line, later: 0, event: 0.021 }, { document, size: "slide" })
 */
export function stepFigure(data: StepData, options: ChartOptions): SVGSVGElement {
  const page = planPage(data, options, "step-figure");
  const lineWidth = page.narrow ? page.width : Math.round(Math.max(lineLeast, page.width * lineShare));
  const width = page.narrow ? page.width : page.width - lineWidth;
  const room = page.narrow ? 380 : Math.max(360, page.height - page.top - 4);
  const picture = faultFigure(
    { ...data.waveform, title: "", subtitle: "", facts: "", states: [], events: withSubject(data) },
    {
      document: options.document,
      scheme: options.scheme ?? "light",
      width,
      height: room,
      range: data.range,
      timeScale: "linear",
      panels: data.waveform.currents.length > 0 ? ["voltage", "current"] : ["voltage"],
      id: `${page.id}-waveforms`,
    },
  );
  const pictureHeight = Number(picture.getAttribute("height"));
  const lineTop = page.narrow ? page.top + pictureHeight : page.top;
  const lineBox = {
    left: page.narrow ? 0 : width,
    top: lineTop + whenHeight,
    width: lineWidth,
    height: page.narrow ? null : room - whenHeight,
  };
  const line = placeBeside(page, data.line, lineBox);
  const height = Math.ceil(Math.max(page.height, page.top + pictureHeight + 4, lineBox.top + line.height + outer));
  const svg = openPage(page, page.fixed ? page.height : height, description(data));
  place(svg, picture, 0, page.top - 8);
  write(page, svg, page.narrow ? page.left : width + 8, lineTop + whenHeight / 2, whenSeen(data), { bold: true });
  line.draw(add(svg, "g", { class: "line" }));
  return svg;
}

function withSubject({ waveform, event }: StepData): WaveformData["events"] {
  return waveform.events.map((each) => (each.time === event ? { ...each, subject: true } : each));
}

/** States and readings are of one instant, and that is not the one that the title tells. */
const whenSeen = ({ later }: StepData): string =>
  later > 0 ? `The line ${formatTime(later, 2)} later` : "The line at that instant";

function place(parent: Element, figure: SVGSVGElement, x: number, y: number): void {
  for (const name of ["role", "aria-labelledby"]) figure.removeAttribute(name);
  figure.querySelector("title")?.remove();
  figure.querySelector("desc")?.remove();
  figure.setAttribute("x", String(rounded(x)));
  figure.setAttribute("y", String(rounded(y)));
  parent.appendChild(figure);
}

function description(data: StepData): string {
  const { subtitle, waveform, range, line } = data;
  const { sources, mainFuse, across, seriesSwitch, loads } = line;
  const parts = [
    ...sources.flatMap(({ part, inLead, across: own }) => [part, ...inLead, ...own]),
    mainFuse,
    ...across,
    seriesSwitch,
    ...loads.flatMap(({ part, inLead, across: own }) => [part, ...inLead, ...own]),
  ].flatMap((part) => (part === null ? [] : [part]));
  const states = parts.flatMap(({ name, state, reading }) =>
    state === null && reading === null
      ? []
      : [`${[name, reading, state?.text].filter((each) => each != null).join(", ")}`],
  );
  const after = formatTime(range[1] - waveform.faultTime);
  return [
    subtitle,
    ...factsTold(data),
    `Voltages and currents up to ${after} after the ${waveform.zero ?? "fault"}.`,
    `${whenSeen(data)}: ${states.join("; ")}.`,
  ].join(" ");
}

/**
 * A slide of a few sentences, each with its number.
 *
 * @param data at least one line
 * @param options the document to draw in, size in CSS pixels, colours; on a slide what finds no room is told as left out
 * @throws RangeError without lines
 * @example wordsFigure({ title: "Before the next use", subtitle: "", lines: verdict.replace }, { document, size: "slide" })
 */
export function wordsFigure(data: WordsData, options: ChartOptions): SVGSVGElement {
  if (data.lines.length === 0) throw new RangeError("there are no lines to be written");
  const page = planPage(data, options, "words-figure");
  const sizes = page.narrow ? [15] : [24, 20, 17, 15, 13];
  const free = page.height - page.top - outer - 8;
  const laid = sizes.map((size) => lay(page, data.lines, size));
  const chosen = laid.find(({ height }) => height <= free) ?? laid[laid.length - 1];
  const kept = page.fixed ? fitting(chosen, free) : chosen;
  const height = page.fixed ? page.height : Math.ceil(Math.max(page.height, page.top + kept.height + outer + 8));
  const svg = openPage(page, height, [data.subtitle, ...data.lines].join(" "));
  const group = add(svg, "g", { class: "words" });
  let y = page.top + 8;
  for (const [i, lines] of kept.items.entries()) {
    write(page, group, page.left, y + kept.size * 0.7, `${i + 1}`, {
      size: kept.size,
      bold: true,
      color: page.colors.muted,
    });
    for (const line of lines) {
      write(page, group, page.left + kept.size * 1.8, y + kept.size * 0.7, line, { size: kept.size });
      y += kept.size * 1.4;
    }
    y += kept.size * 0.6;
  }
  const left = data.lines.length - kept.items.length;
  if (left > 0) {
    const text = shorten(`${left} more: see the reset sheet`, 12, page.right - page.left);
    write(page, group, page.left, page.height - outer, text, { color: page.colors.muted });
  }
  return svg;
}

interface Laid {
  readonly size: number;
  readonly items: readonly (readonly string[])[];
  readonly height: number;
}

function lay(page: Page, lines: readonly string[], size: number): Laid {
  const items = lines.map((line) => wrap(line, size, page.right - page.left - size * 1.8, 6));
  return { size, items, height: heightOf(items, size) };
}

const heightOf = (items: Laid["items"], size: number): number =>
  items.reduce((sum, lines) => sum + lines.length * size * 1.4 + size * 0.6, 0);

function fitting({ size, items }: Laid, free: number): Laid {
  let kept = items.length;
  while (kept > 1 && heightOf(items.slice(0, kept), size) > free - (kept < items.length ? 18 : 0)) kept -= 1;
  const some = items.slice(0, kept);
  return { size, items: some, height: heightOf(some, size) };
}
