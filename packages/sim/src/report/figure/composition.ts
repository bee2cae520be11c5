import type { Frame } from "./draw.ts";
import { type EventListLayout, layoutEventList } from "./event-list.ts";
import { type EventList, listEvents } from "./events.ts";
import { type Content, type Layout, layOut, type PanelPlace } from "./layout.ts";
import { layOutBare } from "./layout-bare.ts";
import { type Look, palette } from "./palette.ts";
import { type Plan, type PlanOptions, planOf, type TimedData } from "./plan.ts";
import { type RowNote, rowNote } from "./state-notes.ts";
import type { TimeAxis } from "./time-axis.ts";
import type { PictureOptions, StateRow } from "./types.ts";
import type { ValuePanel } from "./value-panel.ts";
import type { ValueScale } from "./value-scale.ts";

/** What one kind of figure over time draws. */
export interface TimedSubject {
  readonly data: TimedData & { readonly title: string; readonly subtitle: string; readonly facts?: string };
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
  const content = {
    ...plan,
    title: data.title,
    subtitle: data.subtitle,
    facts: data.facts ?? "",
    panels,
    compact: false,
  };
  const { list, listLayout, layout, shown } = plan.bare
    ? bareOf(content, rows, options.axes?.rows ?? 0)
    : fitted(data, plan, content, rows);
  const placed = panels.map((panel, i) => {
    const place = layout.panels[i];
    return { panel, place, scale: panel.scale(place.frame) };
  });
  return { plan, look, zero: data.faultTime, rows: shown, panels: placed, list, listLayout, layout };
}

type Unlisted = Omit<Content, "list" | "panels" | "devices" | "notes"> & { readonly panels: readonly ValuePanel[] };

const namesOf = (rows: readonly StateRow[]): string[] => rows.map(({ label }) => label);

function bareOf(content: Unlisted, shown: readonly StateRow[], leastRows: number) {
  const list: EventList = { listed: [], omitted: 0 };
  const listLayout: EventListLayout = { entries: [], whenWidth: 0, columnWidth: 0, height: 0 };
  const heading = content.panels.map((panel) => panel.heading).join(", ");
  const layout = layOutBare({ ...content, devices: namesOf(shown), notes: [], list: listLayout }, heading, leastRows);
  return { list, listLayout, layout, shown };
}

/**
 * The longest list of events with which the figure keeps its height; a short one where it must grow anyway. Where it must not grow,
 * everything moves closer, and in the end devices that stayed as they were are left out.
 */
function fitted(data: TimedData, plan: Plan, content: Unlisted, rows: readonly StateRow[]) {
  const { outerLeft, legendLeft, outerRight } = plan.columns;
  const noteRoom = outerRight - (plan.narrow ? outerLeft : legendLeft);
  const noteOf = (row: StateRow, close: boolean): RowNote =>
    rowNote(plan.axis, row, data.faultTime, noteRoom, plan.narrow ? "narrow" : close ? "close" : "wide");
  const attempt = (most: number, compact = false, shown = rows, close = compact): Tried => {
    const list = listEvents(data.events, data.faultTime, plan.range, most);
    const unshown = namesOf(rows.filter((row) => !shown.includes(row)));
    // A slide keeps its height; on a page a long entry is better high than cut short.
    const listLayout = layoutEventList(list, outerLeft, outerRight, unshown, plan.fixed ? 2 : plan.narrow ? 5 : 3);
    const layout = layOut({
      ...content,
      compact,
      devices: namesOf(shown),
      notes: shown.map((row) => noteOf(row, close)),
      list: listLayout,
    });
    const more = () => attempt(most + 1, compact, shown, close);
    return { list, listLayout, layout, shown, more };
  };
  if (plan.narrow) return attempt(8);
  const busy = rows.filter(({ spans }) => spans.length > 1);
  const ranked = [...busy].sort((a, b) => Number(b.decisive ?? false) - Number(a.decisive ?? false));
  const first = (count: number) => rows.filter((row) => ranked.slice(0, count).includes(row));
  const decisive = data.events.filter((event) => event.decisive === true).map(({ label }) => label);
  const deciding = Math.min(3, Math.max(1, new Set(decisive).size));
  const tries = [
    ...[9, 6, 4].map((most) => () => attempt(most)),
    ...(plan.fixed
      ? [
          ...[6, 4].map((most) => () => attempt(most, true, rows, false)),
          ...[6, 4, 2].map((most) => () => attempt(most, true)),
          ...[4, 2].map((most) => () => attempt(most, true, busy)),
          // What decided the outcome says more than one device's bar.
          ...[deciding, Math.min(2, deciding)].flatMap((most) =>
            [5, 4, 3, 2].map((count) => () => attempt(most, true, first(count))),
          ),
          // Better some devices than none.
          () => attempt(1, true, busy),
          ...[4, 3, 2].map((count) => () => attempt(1, true, first(count))),
        ]
      : []),
  ];
  const fits = ({ layout }: Tried) => layout.height <= (content.height ?? 0);
  for (const each of tries) {
    const result = each();
    if (fits(result)) return plan.fixed ? filled(result, fits) : result;
  }
  return plan.fixed ? attempt(1, true, []) : attempt(6);
}

/** One try at placing everything. */
interface Tried extends Pick<Composition, "list" | "listLayout" | "layout"> {
  readonly shown: readonly StateRow[];
  /** The same with one line more in the list. */
  readonly more: () => Tried;
}

/** What the list leaves free beside and below its lines tells as many further events as it holds uncut. */
function filled(found: Tried, fits: (tried: Tried) => boolean): Tried {
  const cut = ({ listLayout }: Tried) => listLayout.entries.some(({ lines }) => lines.join("").includes("…"));
  let best = found;
  while (best.list.omitted > 0) {
    const next = best.more();
    if (!fits(next) || (cut(next) && !cut(best))) break;
    best = next;
  }
  return best;
}

/** In the wide form one frame from the marks to the axis; in the narrow one text stands between the panels. */
export function ruledFrames({ layout, plan }: Composition): Frame[] {
  const frames = [...layout.panels.map(({ frame }) => frame), ...layout.states.map(({ bar }) => bar)];
  if ((plan.narrow && !plan.bare) || frames.length === 0) return frames;
  return [{ ...frames[0], bottom: frames[frames.length - 1].bottom }];
}
