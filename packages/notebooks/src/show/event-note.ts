import type { FigurePlaces, WaveformData } from "@railfault/sim/figures";
import { button, el, setAttributes, setText } from "../controls/index.ts";
import { sinceZero } from "./reading.ts";
import type { TimeViewStore } from "./time-view.ts";
import { unbroken } from "./words.ts";

export interface EventNote {
  readonly element: HTMLElement;
  show(data: WaveformData, places: FigurePlaces): void;
}

/** What happened, why, and what it means: of the event in hand, with a button for each of them. */
export function eventNote(
  document: Document,
  view: TimeViewStore,
  closer: (event: number) => void,
  of: string,
): EventNote {
  const badge = el(document, "span", { class: "badge", "aria-hidden": "true" });
  const what = el(document, "strong");
  const when = el(document, "span", { class: "event-when" });
  const why = el(document, "p", { class: "event-why" });
  const text = el(document, "div", { class: "event-text", "aria-live": "polite" });
  text.append(el(document, "p", { class: "event-what" }, badge, what, " ", when), why);
  let shown: { readonly data: WaveformData; readonly places: FigurePlaces } | null = null;

  const take = (event: number): void => view.set({ event, pointer: null });
  const numbers = el(document, "div", { class: "event-numbers", role: "group", "aria-label": "Events" });
  const look = button(document, {
    label: "Look closer",
    press: () => {
      if (view.now.event !== null) closer(view.now.event);
    },
  });
  const steps = el(document, "div", { class: "event-steps" }, numbers, look);
  const element = el(document, "section", { class: "event-note", "aria-label": `${of}: what happened` }, text, steps);

  const write = (): void => {
    const index = view.now.event;
    const event = index === null ? undefined : shown?.data.events[index];
    const place = shown?.places.list.findIndex(({ events }) => index !== null && events.includes(index)) ?? -1;
    badge.hidden = place < 0;
    setText(badge, String(place + 1));
    setText(what, event === undefined ? "Nothing happens in this run." : unbroken(event.label));
    setText(
      when,
      event === undefined || shown === null ? "" : sinceZero(event.time - shown.data.faultTime, shown.data),
    );
    setText(why, unbroken(event?.explanation ?? ""));
    setAttributes(look, { disabled: event === undefined });
    for (const [i, each] of [...numbers.children].entries()) setAttributes(each, { "aria-pressed": i === place });
  };

  // One button for each line of the figure's list, with its number; kept from drawing to drawing for the one in focus.
  const placeNumbers = ({ data, places }: NonNullable<typeof shown>): void => {
    while (numbers.childElementCount > places.list.length) numbers.lastElementChild?.remove();
    while (numbers.childElementCount < places.list.length) {
      const number = el(document, "button", { type: "button" }, String(numbers.childElementCount + 1));
      const event = (): number => Number(number.dataset.event);
      number.addEventListener("pointerenter", () => take(event()));
      number.addEventListener("focus", () => take(event()));
      number.addEventListener("click", () => {
        take(event());
        closer(event());
      });
      numbers.append(number);
    }
    for (const [i, { events }] of places.list.entries()) {
      const { label, time } = data.events[events[0]];
      setAttributes(numbers.children[i], {
        "data-event": events[0],
        "aria-label": `Event ${i + 1}, ${sinceZero(time - data.faultTime, data)}: ${label}`,
      });
    }
  };
  view.watch(write);
  return {
    element,
    show(data, places) {
      shown = { data, places };
      placeNumbers(shown);
      write();
    },
  };
}
