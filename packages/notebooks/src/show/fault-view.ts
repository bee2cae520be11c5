import {
  type FigurePlaces,
  type PanelName,
  placedFaultFigure,
  type SharedAxes,
  type WaveformData,
} from "@railfault/sim/figures";
import { el } from "../controls/index.ts";
import { eventNote } from "./event-note.ts";
import { figureOver } from "./figure-over.ts";
import { type FigurePlace, figurePlace } from "./figure-place.ts";
import type { Drawing } from "./picture.ts";
import { readingView } from "./reading.ts";
import { type TimeViewStore, timeViewStore } from "./time-view.ts";
import { closeTo, suggestedRange, within } from "./windows.ts";
import { zoomBar } from "./zoom-bar.ts";

export interface FaultViewOptions {
  readonly label: string;
  /** The run's data as CSV in pieces. */
  readonly csv?: (data: WaveformData) => Iterable<string>;
  /** Whether a second figure shows the brushed part; default true. */
  readonly closeUp?: boolean;
  /** Panels of the whole; default all three. */
  readonly panels?: readonly PanelName[];
  /** Panels of the close-up; default voltage and current. */
  readonly closePanels?: readonly PanelName[];
  /** Scales of the whole where the run's own do not show what matters. */
  readonly axes?: (data: WaveformData) => SharedAxes;
  /** Where the close-up begins, in place of what the run's events suggest; null: as they do. */
  readonly first?: (data: WaveformData) => readonly [number, number] | null;
  /** What is looked at; default a store of its own. */
  readonly view?: TimeViewStore;
}

export interface FaultView {
  readonly element: HTMLElement;
  readonly view: TimeViewStore;
  show(data: WaveformData): void;
  busy(running: boolean): void;
  leave(): void;
}

/**
 * A run to look into: the whole with a brush on it, the brushed part below, values at the pointer, what each event means.
 *
 * @example const seen = faultView(document, { label: "What the radio saw" }); seen.show(figureData(run, verdict));
 */
export function faultView(document: Document, options: FaultViewOptions): FaultView {
  const { label, panels = ["voltage", "current", "states"], closePanels = ["voltage", "current"] } = options;
  const view = options.view ?? timeViewStore();
  let data: WaveformData | null = null;
  const rangeOf = (of: WaveformData): readonly [number, number] =>
    (view.now.range === null ? null : within(of, view.now.range)) ?? options.first?.(of) ?? suggestedRange(of);
  const closer = (event: number): void => {
    if (data !== null) view.set({ range: closeTo(data, event, rangeOf(data)) });
  };
  const reset = (): void => view.set({ range: null, pointer: null });
  const reading = readingView(document);
  const note = eventNote(document, view, closer, label);
  const bar = zoomBar(document, view, rangeOf);
  const overWhole = figureOver(document, {
    view,
    band: options.closeUp === false ? () => null : rangeOf,
    brushed: (range) => view.set({ range }),
    reset,
    closer,
    label: `${label}: read values at a time`,
  });
  const overClose = figureOver(document, {
    view,
    band: () => null,
    brushed: () => {},
    reset,
    closer,
    label: "Close-up: read values at a time",
  });

  const placeOf = (
    name: string,
    over: typeof overWhole,
    optionsOf: (of: WaveformData) => object,
  ): FigurePlace<WaveformData> => {
    let places: FigurePlaces | null = null;
    return figurePlace<WaveformData>(document, {
      label: name,
      draw: (of, drawing: Drawing) => {
        const drawn = placedFaultFigure(of, { ...drawing, ...optionsOf(of) });
        // A picture for a file is drawn in passing; what lies over the page stays with the page's own.
        if (drawing.size === undefined) places = drawn.places;
        return drawn.figure;
      },
      title: ({ title }) => `${title} ${name === label ? "" : "close-up"}`,
      drawn: (_, of) => {
        if (places === null) return;
        over.show(of, places);
        if (over === overWhole) note.show(of, places);
      },
      ...(options.csv === undefined ? {} : { csv: options.csv }),
    });
  };
  const whole = placeOf(label, overWhole, (of) => ({
    panels,
    timeScale: view.now.scale,
    ...(options.axes === undefined ? {} : { axes: options.axes(of) }),
  }));
  const close = placeOf("Close-up", overClose, (of) => ({
    panels: closePanels,
    range: rangeOf(of),
    timeScale: "linear",
  }));
  whole.picture.append(overWhole.element);
  close.picture.append(overClose.element);

  const read = (): void => {
    if (data === null) return;
    const event = view.now.event === null ? undefined : data.events[view.now.event];
    reading.show(data, view.now.pointer ?? event?.time ?? data.faultTime);
  };
  const stop = view.watch((now, before) => {
    read();
    if (now.scale !== before.scale) whole.redraw();
    if (now.range !== before.range) close.redraw();
  });
  const element = el(document, "div", { class: "fault-view" }, whole.element, reading.element, note.element);
  if (options.closeUp !== false) element.append(bar.element, close.element);

  return {
    element,
    view,
    show(next) {
      const inHand = view.now.event === null ? null : data?.events[view.now.event]?.label;
      data = next;
      // Another run has other events: the one in hand is kept where its like happens again.
      const same = next.events.findIndex(({ label: each }) => each === inHand);
      const first = Math.max(firstHappening(next), Math.min(0, next.events.length - 1));
      const event = same >= 0 ? same : first;
      view.set({ event: event < 0 ? null : event });
      whole.show(next);
      close.show(next);
      bar.show(next);
      read();
    },
    busy(running) {
      whole.busy(running);
      close.busy(running);
    },
    leave() {
      stop();
      whole.leave();
      close.leave();
    },
  };
}

/** The first important event after the fault; −1 without one. */
function firstHappening({ events, faultTime }: WaveformData): number {
  return events.findIndex(({ important, time }) => important && time > faultTime);
}
