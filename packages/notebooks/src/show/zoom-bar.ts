import { formatQuantity, parseQuantity } from "@railfault/sim";
import type { WaveformData } from "@railfault/sim/figures";
import { button, choice, el, setText, textField } from "../controls/index.ts";
import type { TimeViewStore } from "./time-view.ts";
import { around, wholeRun, within } from "./windows.ts";

export interface ZoomBar {
  readonly element: HTMLElement;
  show(data: WaveformData): void;
}

/** Digits that tell the ends of a range apart. */
function written(seconds: number, range: readonly [number, number]): string {
  const larger = Math.max(Math.abs(seconds), Number.MIN_VALUE);
  const digits = Math.min(9, Math.max(3, Math.ceil(Math.log10(larger / (range[1] - range[0]))) + 3));
  return `${seconds < 0 ? "−" : ""}${formatQuantity(Math.abs(seconds), "time", { digits })}`;
}

/** From this many widths away on, times after the fault would need more digits than anybody reads. */
const farAway = 1000;

/** After what the ends are counted: the fault, or far from it the first event in view. */
function originOf(
  data: WaveformData,
  range: readonly [number, number],
): { readonly time: number; readonly words: string } {
  const { faultTime, events, zero = "fault" } = data;
  const reach = Math.max(Math.abs(range[0] - faultTime), Math.abs(range[1] - faultTime));
  if (reach <= farAway * (range[1] - range[0])) return { time: faultTime, words: `the ${zero}` };
  const first = events.find(({ time }) => time >= range[0] && time <= range[1]);
  return first === undefined
    ? { time: range[0], words: "the close-up’s own beginning" }
    : { time: first.time, words: `event: ${first.label}` };
}

/** The close-up's ends, which `rangeOf` tells, as fields, steps around the event in hand, and the time scale of the whole. */
export function zoomBar(
  document: Document,
  view: TimeViewStore,
  rangeOf: (data: WaveformData) => readonly [number, number],
): ZoomBar {
  let data: WaveformData | null = null;
  const read = (text: string): number | string => {
    const negative = /^\s*[-−]/.test(text);
    const parsed = parseQuantity(text.replace(/^\s*[-−]\s*/, ""), "time");
    return parsed.ok
      ? negative
        ? -parsed.value
        : parsed.value
      : `Received “${text}”. Allowed: a time with its unit, such as 40 µs.`;
  };
  const field = (label: string) =>
    textField(document, {
      label,
      value: "",
      check: (text) => {
        const time = read(text);
        return typeof time === "string" ? time : null;
      },
    });
  const from = field("Close-up from");
  const to = field("to");
  const counted = el(document, "span", { class: "zoom-counted" });
  const write = (): void => {
    if (data === null) return;
    const range = rangeOf(data);
    const origin = originOf(data, range);
    from.value = written(range[0] - origin.time, range);
    to.value = written(range[1] - origin.time, range);
    setText(counted, `counted from ${origin.words}`);
  };
  // Only the end that was typed changes: the other is known better than its text tells.
  const take = (end: 0 | 1) => (): void => {
    const time = read((end === 0 ? from : to).value);
    if (data === null || typeof time === "string") return;
    const old = rangeOf(data);
    const typed = originOf(data, old).time + time;
    const range = within(data, end === 0 ? [typed, old[1]] : [old[0], typed]);
    if (range !== null) view.set({ range });
    write();
  };
  from.addEventListener("change", take(0));
  to.addEventListener("change", take(1));

  const near = (label: string, half: number) =>
    button(document, {
      label,
      name: `Close-up: ${label} around the event in hand`,
      press: () => {
        if (data === null) return;
        const event = view.now.event;
        const range = event === null ? null : around(data, event, half);
        if (range !== null) view.set({ range });
      },
    });
  const scale = choice(document, {
    label: "Time scale of the whole",
    value: view.now.scale,
    options: [
      { value: "auto", label: "fitting" },
      { value: "linear", label: "linear" },
      { value: "logarithmic", label: "logarithmic" },
    ],
  });
  scale.addEventListener("input", () => view.set({ scale: scale.value as "auto" | "linear" | "logarithmic" }));
  view.watch((now, before) => {
    if (now.range !== before.range) write();
    scale.value = now.scale;
  });
  const element = el(
    document,
    "div",
    { class: "zoom", role: "group", "aria-label": "Which part of the run" },
    scale,
    el(document, "div", { class: "zoom-ends" }, from, to, counted),
    el(
      document,
      "div",
      { class: "row" },
      near("±10 µs", 1e-5),
      near("±1 ms", 1e-3),
      button(document, { label: "whole run", press: () => data && view.set({ range: wholeRun(data) }) }),
      button(document, {
        label: "back",
        name: "Back to the suggested close-up",
        press: () => view.set({ range: null }),
      }),
    ),
  );
  return {
    element,
    show(next) {
      data = next;
      write();
    },
  };
}
