import type { EventPlace, FigurePlaces, WaveformData } from "@railfault/sim/figures";
import { el, setAttributes } from "../controls/index.ts";
import { bandAndLines } from "./over-lines.ts";
import type { FigureOverOptions } from "./over-options.ts";
import { timeHandle } from "./time-handle.ts";

export interface FigureOver {
  readonly element: HTMLElement;
  show(data: WaveformData, places: FigurePlaces): void;
}

/** Lies over a fault figure: a brush and a reading line on its plots, a button on each of its events. */
export function figureOver(document: Document, options: FigureOverOptions): FigureOver {
  const { view } = options;
  const lines = bandAndLines(document);
  const handle = timeHandle(document, options);
  const buttons = el(document, "div", { class: "figure-events" });
  const element = el(document, "div", { class: "figure-over" }, handle.element, buttons);
  element.prepend(lines.element);
  let shown: { readonly data: WaveformData; readonly places: FigurePlaces } | null = null;

  const paint = (): void => {
    if (shown !== null) lines.show(shown.data, shown.places, view.now, options.band(shown.data));
  };
  view.watch(paint);

  // Buttons are kept from drawing to drawing: the one in focus would lose it.
  const placeButtons = (data: WaveformData, places: FigurePlaces): void => {
    const wanted = [
      ...places.list.map((place) => ({ place, mark: false })),
      ...places.marks.map((place) => ({ place, mark: true })),
    ];
    while (buttons.childElementCount > wanted.length) buttons.lastElementChild?.remove();
    while (buttons.childElementCount < wanted.length) buttons.append(eventButton(document, options));
    for (const [i, { place, mark }] of wanted.entries()) {
      const button = buttons.children[i] as HTMLElement;
      const event = data.events[place.events[0]];
      setAttributes(button, {
        "aria-label": mark ? null : `Event ${i + 1}: ${event.label}`,
        "aria-hidden": mark ? "true" : null,
        tabindex: mark ? -1 : 0,
        "data-event": place.events[0],
      });
      put(button, place, places);
    }
  };

  return {
    element,
    show(data, places) {
      shown = { data, places };
      element.style.aspectRatio = `${places.width} / ${places.height}`;
      handle.show(data, places);
      placeButtons(data, places);
      paint();
    },
  };
}

function eventButton(document: Document, { view, closer }: FigureOverOptions): HTMLElement {
  const button = el(document, "button", { type: "button", class: "figure-event" });
  const event = (): number => Number(button.dataset.event);
  const take = (): void => view.set({ event: event(), pointer: null });
  button.addEventListener("pointerenter", take);
  button.addEventListener("focus", take);
  button.addEventListener("click", () => {
    take();
    closer(event());
  });
  return button;
}

function put(element: HTMLElement, { frame }: EventPlace, { width, height }: FigurePlaces): void {
  const share = (value: number, of: number) => `${(100 * value) / of}%`;
  element.style.left = share(frame.left - 3, width);
  element.style.top = share(frame.top - 2, height);
  element.style.width = share(frame.right - frame.left + 6, width);
  element.style.height = share(frame.bottom - frame.top + 4, height);
}
