import type { EventPlace, FigurePlaces, WaveformData } from "@railfault/sim/figures";
import { el, setAttributes } from "../controls/index.ts";
import { bandAndLines } from "./over-lines.ts";
import type { FigureOverOptions } from "./over-options.ts";
import { timeHandle } from "./time-handle.ts";

export interface FigureOver {
  readonly element: HTMLElement;
  show(data: WaveformData, places: FigurePlaces): void;
}

/** Lies over a fault figure: a brush and a reading line on its plots, a spot on each of its events. */
export function figureOver(document: Document, options: FigureOverOptions): FigureOver {
  const { view } = options;
  const lines = bandAndLines(document);
  const handle = timeHandle(document, options);
  // For a pointer only; by keyboard there are the numbers of the note, in a size that fingers hit.
  const spots = el(document, "div", { class: "figure-events", "aria-hidden": "true" });
  const element = el(document, "div", { class: "figure-over" }, handle.element, spots);
  element.prepend(lines.element);
  let shown: { readonly data: WaveformData; readonly places: FigurePlaces } | null = null;

  const paint = (): void => {
    if (shown !== null) lines.show(shown.data, shown.places, view.now, options.band(shown.data));
  };
  view.watch(paint);

  const placeSpots = (places: FigurePlaces): void => {
    const wanted = [...places.list, ...places.marks];
    while (spots.childElementCount > wanted.length) spots.lastElementChild?.remove();
    while (spots.childElementCount < wanted.length) spots.append(eventSpot(document, options));
    for (const [i, place] of wanted.entries()) {
      const spot = spots.children[i] as HTMLElement;
      setAttributes(spot, { "data-event": place.events[0] });
      put(spot, place, places);
    }
  };

  return {
    element,
    show(data, places) {
      shown = { data, places };
      element.style.aspectRatio = `${places.width} / ${places.height}`;
      handle.show(data, places);
      placeSpots(places);
      paint();
    },
  };
}

function eventSpot(document: Document, { view, closer }: FigureOverOptions): HTMLElement {
  const spot = el(document, "span", { class: "figure-event" });
  const event = (): number => Number(spot.dataset.event);
  const take = (): void => view.set({ event: event(), pointer: null });
  spot.addEventListener("pointerenter", take);
  spot.addEventListener("click", () => {
    take();
    closer(event());
  });
  return spot;
}

function put(element: HTMLElement, { frame }: EventPlace, { width, height }: FigurePlaces): void {
  const share = (value: number, of: number) => `${(100 * value) / of}%`;
  element.style.left = share(frame.left - 3, width);
  element.style.top = share(frame.top - 2, height);
  element.style.width = share(frame.right - frame.left + 6, width);
  element.style.height = share(frame.bottom - frame.top + 4, height);
}
