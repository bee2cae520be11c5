import { faultFigure, type SharedAxes, type WaveformData } from "@railfault/sim/figures";
import { el, setText } from "../../controls/index.ts";
import { figurePlace } from "../../show/index.ts";
import type { Ending, Outcome } from "./outcome-types.ts";
import type { Return } from "./return.ts";
import { whole } from "./words.ts";

/** What a small picture is drawn from. */
export interface Small {
  readonly data: WaveformData;
  readonly axes: SharedAxes;
}

/** Something to be said of a run beside its ending. */
export interface Note {
  readonly label: string;
  readonly mark: { readonly tag: string; readonly tone: string } | null;
  readonly sentence: string;
}

/** One run among several: a small picture, how it ended, whether the radio comes back alone. */
export interface Card {
  readonly element: HTMLElement;
  draw(small: Small): void;
  /** @param watching more is still to come of it */
  tell(outcome: Outcome, back: Return, notes: readonly Note[], watching: boolean): void;
  /** Why there is no run. */
  refuse(why: string): void;
  busy(running: boolean): void;
  leave(): void;
}

/** How an ending is tinted; it is always written, too. */
const TONES: Readonly<Record<Ending, string>> = {
  fuse: "safe",
  "fuse in doubt": "close",
  "fuse bursts": "endangered",
  shorted: "endangered",
  trips: "withstood",
  overheats: "endangered",
  cycles: "withstood",
  held: "withstood",
  fired: "active",
  latched: "active",
  "cut off": "active",
  "let go": "active",
  beyond: "endangered",
  quiet: "none",
  watched: "none",
  stopped: "none",
  unknown: "none",
};

export const toneOf = ({ ending }: Outcome): string => TONES[ending];

export const returnTone = ({ alone }: Return): string =>
  alone === null ? "none" : alone === true ? "safe" : "withstood";

/** Height over width of the small pictures, with room for a voltage and three states. */
const height = (width: number): number => Math.max(230, Math.min(290, 0.6 * width));

/**
 * @param title names the run; also what the picture is called when it is saved
 * @param about what is particular about it
 */
export function runCard(document: Document, title: string, about: string): Card {
  const place = figurePlace<Small>(document, {
    label: title,
    draw: ({ data, axes }, drawing) =>
      drawing.size === undefined
        ? faultFigure(data, {
            ...drawing,
            axes,
            frame: "bare",
            panels: ["voltage", "states"],
            height: height(drawing.width ?? 400),
          })
        : faultFigure(data, { ...drawing, axes, panels: ["voltage", "current", "states"] }),
    reserve: height,
    title: ({ data }) => data.title,
  });
  const refusal = el(document, "p", { class: "run-refused", hidden: true });
  const ends = el(document, "dl", { class: "run-ends" });
  const entry = ({ label, mark, sentence }: Note): readonly HTMLElement[] => {
    const tag =
      mark === null ? null : el(document, "strong", { class: "state-tag", "data-tone": mark.tone }, whole(mark.tag));
    return [
      el(document, "dt", {}, label),
      el(document, "dd", {}, tag, mark === null ? null : " ", el(document, "span", {}, whole(sentence))),
    ];
  };
  const head = el(document, "p", { class: "run-about" }, about);
  const element = el(
    document,
    "article",
    { class: "run-card", "aria-label": title },
    place.element,
    head,
    ends,
    refusal,
  );
  const good = (shown: boolean): void => {
    place.element.hidden = !shown;
    ends.hidden = !shown;
    refusal.hidden = shown;
  };
  return {
    element,
    draw(small) {
      good(true);
      place.show(small);
    },
    tell(outcome, back, notes, watching) {
      ends.setAttribute("aria-busy", String(watching));
      const line = { label: "The line", mark: { tag: outcome.tag, tone: toneOf(outcome) }, sentence: outcome.sentence };
      const radio = { label: "The radio", mark: { tag: back.tag, tone: returnTone(back) }, sentence: back.sentence };
      ends.replaceChildren(...[line, radio, ...notes].flatMap(entry));
    },
    refuse(why) {
      good(false);
      setText(refusal, `${title}: ${why}`);
    },
    busy: (running) => place.busy(running),
    leave: () => place.leave(),
  };
}
