import type { FigurePlaces, WaveformData } from "@railfault/sim/figures";
import type { TimeView } from "./time-view.ts";

const namespace = "http://www.w3.org/2000/svg";

/** The brushed band, the pointer's line and the mark of the event in hand; drawn in the figure's own pixels. */
export function bandAndLines(document: Document) {
  const svg = document.createElementNS(namespace, "svg");
  svg.setAttribute("aria-hidden", "true");
  const part = (name: string) => {
    const element = document.createElementNS(namespace, "path");
    element.setAttribute("class", name);
    svg.append(element);
    return element;
  };
  const entry = part("lit-entry");
  const band = part("band");
  const event = part("lit");
  const pointer = part("pointer");

  return {
    element: svg,
    show(data: WaveformData, places: FigurePlaces, view: TimeView, range: readonly [number, number] | null): void {
      const { axis, plots, width, height } = places;
      // Part by part: in the narrow form text stands between them.
      const parts = plots.flatMap((plot) => plot.parts);
      svg.setAttribute("viewBox", `0 0 ${width} ${height}`);
      const line = (time: number | null): string =>
        time === null || time < axis.from || time > axis.to
          ? ""
          : parts.map(({ top, bottom }) => `M${axis.position(time)},${top}V${bottom}`).join("");
      const [left, right] = range === null ? [0, 0] : [axis.position(range[0]), axis.position(range[1])];
      // On the whole run's axis a few microseconds are thinner than a hair: the band keeps three pixels.
      const grown = Math.max(0, 3 - (right - left)) / 2;
      const box = parts.map(({ top, bottom }) => `M${left - grown},${top}H${right + grown}V${bottom}H${left - grown}Z`);
      band.setAttribute("d", range === null ? "" : box.join(""));
      const inHand = view.event === null ? null : (data.events[view.event]?.time ?? null);
      // A tint behind its words: a line below them would strike out the next entry.
      const behind = [...places.marks, ...places.list]
        .filter(({ events }) => view.event !== null && events.includes(view.event))
        .map(
          ({ frame: { left, right, top, bottom } }) =>
            `M${left - 3},${top - 1}H${right + 3}V${bottom + 1}H${left - 3}Z`,
        )
        .join("");
      entry.setAttribute("d", behind);
      event.setAttribute("d", line(inHand));
      pointer.setAttribute("d", line(view.pointer));
    },
  };
}
