import { el, freshId, setAttributes, setText } from "../controls/index.ts";
import { exportMenu } from "./export-menu.ts";
import { type Draw, drawnWidth } from "./picture.ts";
import { schemeOf, watchScheme } from "./scheme.ts";
import { whenSeen } from "./when-seen.ts";

export interface FigurePlaceOptions<Data> {
  /** Names the figure for screen readers and saved files where the data have no title. */
  readonly label: string;
  readonly draw: Draw<Data>;
  readonly data?: Data;
  readonly caption?: string;
  /** File name of what is saved; default the label. */
  readonly title?: (data: Data) => string;
  /** The data as CSV in pieces. */
  readonly csv?: (data: Data) => Iterable<string>;
  /** Height kept free before the first picture, CSS pixels at a given width; default that of a run with its states. */
  readonly reserve?: (width: number) => number;
  /** Told after each drawing. */
  readonly drawn?: (svg: SVGSVGElement, data: Data) => void;
  /** Default true. */
  readonly menu?: boolean;
}

export interface FigurePlace<Data> {
  readonly element: HTMLElement;
  /** Where the picture stands; what lies over it is put here. */
  readonly picture: HTMLElement;
  /** Draws for the next frame, out of sight a moment later; of several calls only the newest counts. The old picture stays until then. */
  show(data: Data): void;
  /** Draws the same data again, after an option that `draw` looks at has changed. */
  redraw(): void;
  busy(running: boolean): void;
  caption(text: string): void;
  /** Stops watching width and scheme. */
  leave(): void;
}

/** A run with its states, measured: on a narrow screen labels and keys stand below each other. */
const reserved = (width: number): number => (width < 620 ? 860 : 540);

/**
 * A figure that stays drawn: anew on other data, another width, light or dark.
 *
 * @example
 * const place = figurePlace(document, { label: "Headroom", draw: headroomFigure });
 * place.show(headroomData(run, verdict));
 */
export function figurePlace<Data>(document: Document, options: FigurePlaceOptions<Data>): FigurePlace<Data> {
  const { label, draw, reserve = reserved } = options;
  const window = document.defaultView;
  const id = freshId("figure");
  const picture = el(document, "div", { class: "figure-picture" });
  const caption = el(document, "figcaption", { id: `${id}-caption` }, options.caption ?? "");
  const foot = el(document, "div", { class: "figure-foot" }, caption);
  const element = el(document, "figure", { class: "figure", "aria-label": label }, picture, foot);
  let data: Data | undefined = options.data;
  let width = 0;
  let tallest = 0;
  let printing = false;
  let shown: Element | null = null;

  const paint = (): void => {
    if (data === undefined || width === 0) return;
    const before = shown;
    try {
      const svg = draw(data, { document, width, scheme: printing ? "light" : schemeOf(document), id });
      // The picture is told as a whole by its title and description; names of its groups belong to nothing.
      for (const group of svg.querySelectorAll("g[aria-label]")) group.removeAttribute("aria-label");
      shown = svg;
      options.drawn?.(svg, data);
      // Below what is in sight nobody sees a jump: a first picture gives back what was kept too much for it.
      if (before === null && picture.getBoundingClientRect().top > (window?.innerHeight ?? Infinity)) tallest = 0;
      // After that the place never shrinks: what stands below would jump with every step of a slider.
      const ratio = Number(svg.getAttribute("height")) / Number(svg.getAttribute("width"));
      tallest = Math.max(tallest, ratio * width);
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      shown = el(document, "p", { class: "figure-failure", role: "alert" }, `This picture could not be drawn: ${why}`);
    }
    if (before?.parentNode === picture) before.replaceWith(shown);
    else picture.prepend(shown);
    picture.style.setProperty("--reserve", `${Math.ceil(tallest)}px`);
  };

  const drawing = whenSeen(document, picture, paint);
  const later = (): void => drawing.wanted();
  const fit = (room: number): void => {
    const next = drawnWidth(room);
    if (room <= 0 || next === width) return;
    width = next;
    tallest = shown === null ? reserve(width) : 0;
    picture.style.setProperty("--reserve", `${Math.ceil(tallest)}px`);
    drawing.wantedNextFrame();
  };
  const resized = window?.ResizeObserver ? new window.ResizeObserver(([entry]) => fit(entry.contentRect.width)) : null;
  resized?.observe(picture);
  // Without a layout there is no width to watch: the figures' own default.
  if (resized === null) fit(960);
  const unwatch = watchScheme(document, later);
  // Paper is white whatever the screen shows; the browser prints what stands there when this returns.
  const print = (begins: boolean) => (): void => {
    printing = begins;
    paint();
  };
  const printed = { beforeprint: print(true), afterprint: print(false) };
  for (const [type, listener] of Object.entries(printed)) window?.addEventListener(type, listener);

  if (options.menu !== false) {
    foot.append(
      exportMenu(document, {
        picture: (drawing) => (data === undefined ? null : draw(data, { document, id: `${id}-file`, ...drawing })),
        title: () => (data === undefined ? label : (options.title?.(data) ?? label)),
        csv: () => (data === undefined ? null : (options.csv?.(data) ?? null)),
      }),
    );
  }

  return {
    element,
    picture,
    show(next) {
      data = next;
      later();
    },
    redraw: later,
    busy: (running) => setAttributes(element, { "aria-busy": running }),
    caption: (text) => setText(caption, text),
    leave() {
      resized?.disconnect();
      unwatch();
      for (const [type, listener] of Object.entries(printed)) window?.removeEventListener(type, listener);
      drawing.leave();
    },
  };
}
