import { write } from "../canvas.ts";
import { openPage, outer, type Page, planPage } from "../chart.ts";
import type { ChartOptions } from "../chart-types.ts";
import { factsTold } from "../describe.ts";
import { add } from "../draw.ts";
import { shorten } from "../text.ts";
import type { Telling } from "./block.ts";
import { fitsNarrow, placeNarrow } from "./narrow.ts";
import type { LineBranch, LineDiagramData, LinePart } from "./types.ts";
import { fitsWide, placeWide } from "./wide.ts";

const tellings: readonly Telling[] = ["all", "short", "names"];
const noteHeight = 20;

/**
 * The line as it is wired, with the state of each device as a written tag: sources left, protectors between, loads right; in the narrow form
 * from top to bottom. Nothing moves and no wire has a colour of its own.
 *
 * @param data texts with their units, as `lineDiagramData` gives them
 * @param options the document to draw in, size in CSS pixels, colours. On a slide less is told of each part where room is short; what finds no
 *   room at all is named
 * @returns an element that is not yet part of the document; its `<title>` and `<desc>` tell what it shows
 * @throws RangeError for a line without a source or without a load
 * @example container.append(lineDiagram(lineDiagramData(result.parsed, { run: result.run, time: 0.021 }), { document }));
 */
export function lineDiagram(data: LineDiagramData, options: ChartOptions): SVGSVGElement {
  if (data.sources.length === 0 || data.loads.length === 0)
    throw new RangeError(
      `a line to be drawn has at least one source and one load; received ${data.sources.length} and ${data.loads.length}`,
    );
  const whole = planPage(data, options, "line-diagram");
  const page: Page = { ...whole, height: whole.height - noteHeight };
  const fits = page.narrow ? fitsNarrow : fitsWide;
  const telling = page.fixed ? (tellings.find((each) => fits(page, data, each)) ?? "names") : "all";
  const placed = (page.narrow ? placeNarrow : placeWide)(page, data, telling);
  const height = placed.height + noteHeight;
  const svg = openPage(page, height, description(data));
  placed.draw(add(svg, "g", { class: "line" }));
  const note =
    placed.left.length > 0
      ? `Not drawn for want of room: ${placed.left.join(", ")}`
      : page.narrow
        ? "Each wire is a pair; lengths are one way."
        : "Each wire stands for a pair, plus and minus; lengths are one way.";
  const room = page.right - page.left;
  write(page, svg, page.left, height - outer, shorten(note, 12, room), { color: page.colors.muted });
  return svg;
}

function description({ subtitle, sources, mainFuse, across, seriesSwitch, loads, ...data }: LineDiagramData): string {
  return [
    subtitle,
    ...factsTold(data),
    ...sources.map((branch) => `Source: ${branchTold(branch)}.`),
    ...(mainFuse === null ? [] : [`On the way: ${partTold(mainFuse)}.`]),
    ...across.map((part) => `Across the line: ${partTold(part)}.`),
    ...(seriesSwitch === null ? [] : [`On the way: ${partTold(seriesSwitch)}.`]),
    ...loads.map((branch) => `Load: ${branchTold(branch)}.`),
  ]
    .filter((sentence) => sentence !== "")
    .join(" ");
}

function branchTold({ part, lead, inLead, across }: LineBranch): string {
  return [partTold(part), `lead ${lead}`, ...[...inLead, ...across].map(partTold)].join("; ");
}

function partTold({ name, details, reading, state }: LinePart): string {
  return [name, ...details, ...(reading === null ? [] : [reading]), ...(state === null ? [] : [state.text])].join(", ");
}
