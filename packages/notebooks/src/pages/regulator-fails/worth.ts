import {
  faultFigure,
  figureData,
  legendFigure,
  type SharedAxes,
  sharedAxes,
  type WaveformData,
} from "@railfault/sim/figures";
import { el, setText } from "../../controls/index.ts";
import type { Answer } from "../../run/protocol.ts";
import { figurePlace, verdictView } from "../../show/index.ts";
import { protectionOf, worthOf } from "./compare.ts";
import type { Shows } from "./pictures.ts";

/** A run in one of two small figures that share their axes. */
interface Multiple {
  readonly data: WaveformData;
  readonly axes: SharedAxes;
}

const HEIGHT = 260;

/** The same fault with the protection and without: the verdict without, the difference in a sentence, both voltages on the same axes. */
export function worthView(): Shows<{ readonly guarded: Answer; readonly bare: Answer }> {
  const verdict = verdictView(document, { parts: "answer", label: "Verdict where nothing protects" });
  const heading = el(document, "h3");
  const difference = el(document, "p", { class: "worth-difference", role: "status" });
  const multiple = (label: string) =>
    figurePlace<Multiple>(document, {
      label,
      title: ({ data }) => data.title,
      reserve: () => HEIGHT,
      draw: ({ data, axes }, drawing) =>
        faultFigure(data, { ...drawing, height: HEIGHT, axes, frame: "bare", panels: ["voltage"] }),
    });
  const legend = figurePlace<WaveformData>(document, {
    label: "What the lines mean",
    menu: false,
    reserve: () => 30,
    draw: (data, drawing) => legendFigure(data, { ...drawing, panels: ["voltage"] }),
  });
  const [guardedPlace, barePlace] = [multiple("As it stands"), multiple("Nothing protects")];
  const element = el(
    document,
    "div",
    { class: "worth-body" },
    heading,
    verdict.element,
    difference,
    el(document, "div", { class: "multiples" }, guardedPlace.element, barePlace.element),
    el(document, "div", { class: "worth-legend" }, legend.element),
  );
  return {
    element,
    show({ guarded, bare }) {
      verdict.show(bare.verdict);
      setText(difference, worthOf(guarded, bare));
      const found = protectionOf(guarded.scenario);
      const protection = found ?? "nothing";
      setText(heading, found === null ? "The same fault where nothing protects" : `The same fault without ${found}`);
      const pair = [
        { ...figureData(guarded.run, guarded.verdict), title: `With ${protection}` },
        { ...figureData(bare.run, bare.verdict), title: "Nothing protects" },
      ] as const;
      const axes = sharedAxes(pair.map((data) => ({ ...data, states: [] })));
      guardedPlace.show({ data: pair[0], axes });
      barePlace.show({ data: pair[1], axes });
      legend.show(pair[0]);
    },
    leave() {
      for (const place of [guardedPlace, barePlace, legend]) place.leave();
    },
  };
}
