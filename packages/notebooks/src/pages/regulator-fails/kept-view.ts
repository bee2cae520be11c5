import type { OpenedLine } from "../../line/open.ts";
import { type TimeView, type TimeViewStore, timeViewStore } from "../../show/index.ts";

/** Keys of the page's state that tell which part of the run is looked at; their defaults. */
export const timeViews = { from: "", to: "", scale: "auto" } as const;

/** A brush is moved many times a second; the address follows when it rests, ms. */
const RESTS_MS = 150;

/**
 * What is looked at in the time of a run, kept in the page's state: a link opens the same close-up.
 *
 * @example openLine({ …, views: { ...timeViews } }); const { view } = keptView(opened);
 */
export function keptView(opened: OpenedLine): { readonly view: TimeViewStore; leave(): void } {
  const view = timeViewStore(read(opened));
  let timer: ReturnType<typeof setTimeout> | undefined;
  const stop = view.watch((now, before) => {
    if (now.range === before.range && now.scale === before.scale) return;
    clearTimeout(timer);
    timer = setTimeout(() => opened.look(written(now)), RESTS_MS);
  });
  return {
    view,
    leave() {
      clearTimeout(timer);
      stop();
    },
  };
}

function written({ range, scale }: TimeView): Readonly<Record<string, string>> {
  return { from: range === null ? "" : String(range[0]), to: range === null ? "" : String(range[1]), scale };
}

function read(opened: OpenedLine): Partial<TimeView> {
  const [from, to] = ["from", "to"].map((key) => (opened.view(key) === "" ? Number.NaN : Number(opened.view(key))));
  const scale = (["linear", "logarithmic"] as const).find((each) => each === opened.view("scale")) ?? "auto";
  return { range: from < to ? [from, to] : null, scale };
}
