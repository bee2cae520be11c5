import type { FigurePlaces, WaveformData } from "@railfault/sim/figures";
import { button, el, setAttributes, setText } from "../controls/index.ts";
import { sinceZero } from "./reading.ts";
import type { TimeViewStore } from "./time-view.ts";

export interface EventNote {
  readonly element: HTMLElement;
  show(data: WaveformData, places: FigurePlaces): void;
}

/** What happened, why, and what it means: of the event in hand, with steps to the one before and the next. */
export function eventNote(document: Document, view: TimeViewStore, closer: (event: number) => void): EventNote {
  const badge = el(document, "span", { class: "badge", "aria-hidden": "true" });
  const what = el(document, "strong");
  const when = el(document, "span", { class: "event-when" });
  const why = el(document, "p", { class: "event-why" });
  const text = el(document, "div", { class: "event-text", "aria-live": "polite" });
  text.append(el(document, "p", { class: "event-what" }, badge, what, when), why);
  let shown: { readonly data: WaveformData; readonly places: FigurePlaces } | null = null;

  const entry = (): number =>
    shown?.places.list.findIndex(({ events }) => view.now.event !== null && events.includes(view.now.event)) ?? -1;
  const step = (by: number) => () => {
    const next = shown?.places.list[entry() + by];
    if (next !== undefined) view.set({ event: next.events[0], pointer: null });
  };
  const back = button(document, { label: "‹", name: "The event before", press: step(-1) });
  const on = button(document, { label: "›", name: "The next event", press: step(1) });
  const look = button(document, {
    label: "Look closer",
    press: () => {
      if (view.now.event !== null) closer(view.now.event);
    },
  });
  const steps = el(document, "div", { class: "event-steps" }, back, on, look);
  const element = el(document, "section", { class: "event-note", "aria-label": "What happened" }, text, steps);

  const write = (): void => {
    const index = view.now.event;
    const event = index === null ? undefined : shown?.data.events[index];
    const place = entry();
    badge.hidden = place < 0;
    setText(badge, String(place + 1));
    setText(what, event === undefined ? "Nothing happens in this run." : event.label);
    setText(
      when,
      event === undefined || shown === null ? "" : sinceZero(event.time - shown.data.faultTime, shown.data),
    );
    setText(why, event?.explanation ?? "");
    const last = (shown?.places.list.length ?? 0) - 1;
    setAttributes(back, { "aria-disabled": place <= 0 });
    setAttributes(on, { "aria-disabled": place >= last });
    setAttributes(look, { disabled: event === undefined });
  };
  view.watch(write);
  return {
    element,
    show(data, places) {
      shown = { data, places };
      write();
    },
  };
}
