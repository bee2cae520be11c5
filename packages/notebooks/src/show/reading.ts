import { formatQuantity } from "@railfault/sim";
import { readingsAt, type WaveformData } from "@railfault/sim/figures";
import { el, setText } from "../controls/index.ts";

/** Below this a value is what is left of a decay; V and A alike. */
const nothing = 1e-3;

function written(value: number, dimension: "voltage" | "current"): string {
  const text = formatQuantity(Math.abs(value) < nothing ? 0 : value, dimension);
  return text.replace(/^-/, "−");
}

/** `23.7 µs after the fault`. */
export function sinceZero(seconds: number, { zero = "fault" }: Pick<WaveformData, "zero">): string {
  if (seconds === 0) return `at the ${zero}`;
  const text = formatQuantity(Math.abs(seconds), "time", { digits: 4 });
  return `${text} ${seconds < 0 ? "before" : "after"} the ${zero}`;
}

/** A sentence for a screen reader. */
export function readingWords(data: WaveformData, time: number): string {
  const { voltages, currents, states, sinceZero: since } = readingsAt(data, time);
  const parts = [
    ...voltages.map(({ label, value }) => `${label} ${written(value, "voltage")}`),
    ...currents.map(({ label, value }) => `${label} ${written(value, "current")}`),
    ...states.map(({ label, tag }) => `${label} ${tag}`),
  ];
  return `${sinceZero(since, data)}: ${parts.join(", ")}`;
}

export interface ReadingView {
  readonly element: HTMLElement;
  show(data: WaveformData, time: number): void;
}

/** Every curve's value and every device's state at one instant. Its rows stay in place while the values change. */
export function readingView(document: Document): ReadingView {
  const element = el(document, "dl", { class: "reading" });
  let names = "";
  return {
    element,
    show(data, time) {
      const { voltages, currents, states, sinceZero: since } = readingsAt(data, time);
      const rows: [string, string][] = [
        ["read at", sinceZero(since, data)],
        ...voltages.map(({ label, value }): [string, string] => [label, written(value, "voltage")]),
        ...currents.map(({ label, value }): [string, string] => [label, written(value, "current")]),
        ...states.map(({ label, tag }): [string, string] => [label, tag]),
      ];
      const said = JSON.stringify(rows.map(([name]) => name));
      if (said !== names) {
        names = said;
        element.replaceChildren(
          ...rows.map(([name], i) =>
            el(document, "div", i === 0 ? { class: "when" } : {}, el(document, "dt", {}, name), el(document, "dd")),
          ),
        );
      }
      for (const [i, cell] of [...element.querySelectorAll("dd")].entries()) setText(cell, rows[i][1]);
    },
  };
}
