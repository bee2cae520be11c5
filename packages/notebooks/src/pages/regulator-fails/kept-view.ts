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
  const view = timeViewStore(readView(opened));
  let timer: ReturnType<typeof setTimeout> | undefined;
  let told = written(view.now);
  const tell = (): void => {
    clearTimeout(timer);
    if (same(told, written(view.now))) return;
    told = written(view.now);
    opened.look(told);
  };
  // Whoever turns to something else at once, to copying the link perhaps, finds the address as it is to be.
  const turns = ["pointerdown", "focusin"] as const;
  for (const turn of turns) document.addEventListener(turn, tell, { capture: true });
  let line = opened.line.now.state.line;
  const stops = [
    view.watch((now, before) => {
      if (now.range === before.range && now.scale === before.scale) return;
      clearTimeout(timer);
      timer = setTimeout(tell, RESTS_MS);
    }),
    opened.now(({ state }) => {
      const read = readView(opened);
      // A link was followed: what it says is looked at. Another line has other moments.
      if (!same(written(read), told)) view.set(read);
      else if (state.line !== line) view.set({ range: null });
      line = state.line;
      told = written(read);
    }),
  ];
  return {
    view,
    leave() {
      clearTimeout(timer);
      for (const turn of turns) document.removeEventListener(turn, tell, { capture: true });
      for (const stop of stops) stop();
    },
  };
}

type Written = Readonly<Record<keyof typeof timeViews, string>>;

function same(a: Written, b: Written): boolean {
  return a.from === b.from && a.to === b.to && a.scale === b.scale;
}

function written({ range, scale }: Pick<TimeView, "range" | "scale">): Written {
  return { from: range === null ? "" : String(range[0]), to: range === null ? "" : String(range[1]), scale };
}

function readView(opened: OpenedLine): Pick<TimeView, "range" | "scale"> {
  const [from, to] = ["from", "to"].map((key) => (opened.view(key) === "" ? Number.NaN : Number(opened.view(key))));
  const scale = (["linear", "logarithmic"] as const).find((each) => each === opened.view("scale")) ?? "auto";
  return { range: from < to ? [from, to] : null, scale };
}
