import type { Composition } from "./composition.ts";
import type { Frame } from "./draw.ts";
import { lineHeight, marked, placedMarks } from "./event-list.ts";
import type { TimeAxis } from "./time-axis.ts";

/** Where a mark or a line of the list stands, and which of the data's events it tells. */
export interface EventPlace {
  /** Indices into the data's `events`. */
  readonly events: readonly number[];
  /** Where it is drawn. */
  readonly frame: Frame;
}

/** Where a plot stands. */
export interface PlotPlace {
  /** `states` is the whole strip. */
  readonly name: string;
  /** Of all of it. */
  readonly frame: Frame;
  /** What of it holds no words of others: in the narrow form the names of devices stand between their bars. */
  readonly parts: readonly Frame[];
  /** The value at a height; null where there is none. */
  value(y: number): number | null;
}

/** Where the parts of a drawn figure stand, CSS pixels from its top left corner (of its layout: a slide is drawn at twice that). */
export interface FigurePlaces {
  /** Of the whole figure. */
  readonly width: number;
  /** Of the whole figure. */
  readonly height: number;
  /** Plot areas by name, in the order from top to bottom. */
  readonly plots: readonly PlotPlace[];
  /** Numbered marks above the plots. */
  readonly marks: readonly EventPlace[];
  /** Lines of the list of events. */
  readonly list: readonly EventPlace[];
  /** Of all plots, to turn a position into a time and back. */
  readonly axis: TimeAxis;
}

export function placesOf(composition: Composition): FigurePlaces {
  const { plan, layout, panels, list, listLayout, rows } = composition;
  const { axis, columns } = plan;
  const { middle } = layout.marks;
  return {
    width: plan.width,
    height: layout.height,
    plots: [
      ...panels.map(({ panel, place, scale }) => ({
        name: panel.name,
        frame: place.frame,
        parts: [place.frame],
        value: (y: number) => scale.invert(y),
      })),
      ...(rows.length === 0 ? [] : [{ name: "states", ...stripOf(composition), value: () => null }]),
    ],
    marks: placedMarks(axis, list).map((mark) => ({
      events: marked(list, mark).flatMap(({ indices }) => indices),
      frame: { left: mark.x - mark.width / 2, right: mark.x + mark.width / 2, top: middle - 8, bottom: middle + 8 },
    })),
    list: listLayout.entries.flatMap(({ event, lines, x, y }) => {
      if (event === null) return [];
      const top = layout.listTop + y - lineHeight / 2;
      const right = Math.min(columns.outerRight, x + listLayout.columnWidth);
      return [{ events: event.indices, frame: { left: x, right, top, bottom: top + lines.length * lineHeight } }];
    }),
    axis,
  };
}

function stripOf({ layout, plan }: Composition): Pick<PlotPlace, "frame" | "parts"> {
  const bars = layout.states.map(({ bar }) => bar);
  const frame = { ...bars[0], bottom: bars[bars.length - 1].bottom };
  return { frame, parts: plan.narrow && !plan.bare ? bars : [frame] };
}
