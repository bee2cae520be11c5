import type { FigurePlaces, WaveformData } from "@railfault/sim/figures";
import { el, setAttributes } from "../controls/index.ts";
import type { FigureOverOptions } from "./over-options.ts";
import { readingWords } from "./reading.ts";

/** A drag shorter than this is a press, pixels. */
const shortestDrag = 6;

/** Covers the plots: a pointer reads values and draws a range; with arrow keys it is a slider over time. */
export function timeHandle(document: Document, options: Omit<FigureOverOptions, "band" | "closer">) {
  const { view, label, brushed, reset } = options;
  const element = el(document, "div", {
    class: "figure-time",
    role: "slider",
    tabindex: 0,
    "aria-label": label,
    // Until there is a run; a slider without a value is none.
    "aria-valuenow": 0,
    "aria-valuetext": "no run yet",
  });
  let shown: { readonly data: WaveformData; readonly places: FigurePlaces } | null = null;
  let start: number | null = null;

  const xOf = (event: PointerEvent): number => {
    const box = element.getBoundingClientRect();
    const { left, right } = (shown as NonNullable<typeof shown>).places.axis;
    const share = box.width > 0 ? (event.clientX - box.left) / box.width : 0;
    return left + Math.min(1, Math.max(0, share)) * (right - left);
  };
  const point = (x: number): void => {
    if (shown !== null) view.set({ pointer: shown.places.axis.invert(x) });
  };
  const tell = (): void => {
    if (shown === null) return;
    const { axis } = shown.places;
    const time = view.now.pointer ?? axis.from;
    setAttributes(element, {
      "aria-valuemin": 0,
      "aria-valuemax": 1000,
      "aria-valuenow": Math.round((1000 * (axis.position(time) - axis.left)) / (axis.right - axis.left)),
      "aria-valuetext": readingWords(shown.data, time),
    });
  };
  view.watch((now, before) => {
    if (now.pointer !== before.pointer) tell();
  });

  element.addEventListener("pointermove", (event) => {
    if (shown === null) return;
    const x = xOf(event);
    point(x);
    if (start !== null && Math.abs(x - start) >= shortestDrag) brushed(rangeOf(shown.places, start, x));
  });
  element.addEventListener("pointerdown", (event) => {
    if (shown === null || event.button !== 0) return;
    element.setPointerCapture?.(event.pointerId);
    start = xOf(event);
    point(start);
  });
  const end = (): void => {
    start = null;
  };
  element.addEventListener("pointerup", end);
  element.addEventListener("pointercancel", end);
  element.addEventListener("dblclick", reset);
  element.addEventListener("keydown", (event) => {
    if (shown === null) return;
    const { axis } = shown.places;
    const at = axis.position(view.now.pointer ?? axis.from);
    const step = event.shiftKey ? 40 : 4;
    const moves: Readonly<Record<string, number>> = {
      ArrowLeft: at - step,
      ArrowDown: at - step,
      ArrowRight: at + step,
      ArrowUp: at + step,
      PageDown: at - 80,
      PageUp: at + 80,
      Home: axis.left,
      End: axis.right,
    };
    if (event.key === "Escape") reset();
    else if (event.key in moves) point(Math.min(axis.right, Math.max(axis.left, moves[event.key])));
    else return;
    event.preventDefault();
  });

  return {
    element,
    show(data: WaveformData, places: FigurePlaces): void {
      shown = { data, places };
      const { axis, plots, width, height } = places;
      const top = Math.min(...plots.map(({ frame }) => frame.top));
      const bottom = Math.max(...plots.map(({ frame }) => frame.bottom));
      element.style.left = `${(100 * axis.left) / width}%`;
      element.style.width = `${(100 * (axis.right - axis.left)) / width}%`;
      element.style.top = `${(100 * top) / height}%`;
      element.style.height = `${(100 * (bottom - top)) / height}%`;
      tell();
    },
  };
}

function rangeOf({ axis }: FigurePlaces, a: number, b: number): readonly [number, number] {
  return [axis.invert(Math.min(a, b)), axis.invert(Math.max(a, b))];
}
