import type { Frame } from "./draw.ts";
import { type EventListLayout, layoutEventList } from "./event-list.ts";
import { type EventList, listEvents } from "./events.ts";
import { type Content, type Layout, layOut, type PanelPlace } from "./layout.ts";
import { layOutBare } from "./layout-bare.ts";
import { type Look, palette } from "./palette.ts";
import { type Plan, type PlanOptions, planOf, type TimedData } from "./plan.ts";
import type { TimeAxis } from "./time-axis.ts";
import type { PictureOptions, StateRow } from "./types.ts";
import type { ValuePanel } from "./value-panel.ts";
import type { ValueScale } from "./value-scale.ts";

/** What one kind of figure over time draws. */
export interface TimedSubject {
  readonly data: TimedData & { readonly title: string; readonly subtitle: string };
  /** Of all panels that this kind of figure may have, so that leaving one out moves nothing. */
  readonly headings: readonly string[];
  readonly names: readonly string[];
  readonly rows: readonly StateRow[];
  panels(axis: TimeAxis, look: Look): readonly ValuePanel[];
}

export interface PlacedPanel {
  readonly panel: ValuePanel;
  readonly place: PanelPlace;
  readonly scale: ValueScale;
}

/** A figure over time with everything in its place, before anything is drawn. */
export interface Composition {
  readonly plan: Plan;
  readonly look: Look;
  /** The instant after which times are counted, s. */
  readonly zero: number;
  readonly rows: readonly StateRow[];
  readonly panels: readonly PlacedPanel[];
  readonly list: EventList;
  readonly listLayout: EventListLayout;
  readonly layout: Layout;
}

export function compose(
  { data, headings, names, rows, panels: panelsOf }: TimedSubject,
  options: PlanOptions & Pick<PictureOptions, "scheme">,
): Composition {
  const plan = planOf(data, options, headings, names);
  const look = { colors: palette(options.scheme ?? "light"), weight: plan.weight };
  const panels = panelsOf(plan.axis, look);
  const content = { ...plan, title: data.title, subtitle: data.subtitle, panels, devices: rows.map((r) => r.label) };
  const { list, listLayout, layout } = plan.bare ? bareOf(content) : fitted(data, plan, content);
  const placed = panels.map((panel, i) => {
    const place = layout.panels[i];
    return { panel, place, scale: panel.scale(place.frame) };
  });
  return { plan, look, zero: data.faultTime, rows, panels: placed, list, listLayout, layout };
}

type Unlisted = Omit<Content, "list" | "panels"> & { readonly panels: readonly ValuePanel[] };

function bareOf(content: Unlisted) {
  const list: EventList = { listed: [], omitted: 0 };
  const listLayout: EventListLayout = { entries: [], whenWidth: 0, columnWidth: 0, height: 0 };
  const heading = content.panels.map((panel) => panel.heading).join(", ");
  return { list, listLayout, layout: layOutBare({ ...content, list: listLayout }, heading) };
}

/** The longest list of events with which the figure keeps its height; a short one where it must grow anyway. */
function fitted(data: TimedData, plan: Plan, content: Unlisted) {
  const attempt = (most: number) => {
    const list = listEvents(data.events, data.faultTime, plan.range, most);
    const listLayout = layoutEventList(list, plan.columns.outerLeft, plan.columns.outerRight);
    return { list, listLayout, layout: layOut({ ...content, list: listLayout }) };
  };
  if (plan.narrow) return attempt(8);
  for (const most of plan.fixed ? [9, 6, 4, 2] : [9, 6, 4]) {
    const result = attempt(most);
    if (result.layout.height <= (content.height ?? 0)) return result;
  }
  return attempt(plan.fixed ? 1 : 6);
}

/** In the wide form one frame from the marks to the axis; in the narrow one text stands between the panels. */
export function ruledFrames({ layout, plan }: Composition): Frame[] {
  const frames = [...layout.panels.map(({ frame }) => frame), ...layout.states.map(({ bar }) => bar)];
  if ((plan.narrow && !plan.bare) || frames.length === 0) return frames;
  return [{ ...frames[0], bottom: frames[frames.length - 1].bottom }];
}
