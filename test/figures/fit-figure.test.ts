import { type FitFigureChannel, fitFigure } from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import { expect, test } from "vitest";
import { overlaps, textBoxes } from "./text-boxes.ts";

const { document } = new JSDOM("").window;

/** Two channels, of which `left` is what the run does not explain; its band is a third of that. */
function drawn(left: number, unit: FitFigureChannel["unit"], size: "page" | "phone" | "slide"): SVGSVGElement {
  const time = Float64Array.from({ length: 200 }, (_, i) => i * 1e-4);
  const simulated = time.map((t) => 12 + 3 * Math.exp(-t / 0.004));
  const captured = simulated.map((value, i) => value + left * Math.sin(i));
  const channel = { unit, time, simulated, captured, band: left / 3, isBeyondNoise: false };
  const channels = ["line", "radio"].map((label) => ({ ...channel, label }));
  return fitFigure({ title: "A capture", subtitle: "laid on its run", channels }, { document, size });
}

test.each([1, 2, 3, 5])("a slide keeps its height with %i channels, and names what finds no room", (count) => {
  const time = Float64Array.from([0, 1, 2]);
  const curve = { unit: "V", time, simulated: time, captured: time, band: 0.1, isBeyondNoise: false } as const;
  const channels = Array.from({ length: count }, (_, k) => ({ ...curve, label: `channel ${k + 1}` }));
  const svg = fitFigure({ title: "A capture", subtitle: "laid on its run", channels }, { document, size: "slide" });
  expect(svg.getAttribute("viewBox")).toBe("0 0 960 540");
  const words = svg.textContent ?? "";
  for (const { label } of channels) expect(words).toContain(label);
  expect(words.includes("No room here for: ")).toBe(count > 2);
  expect(overlaps(textBoxes(svg))).toEqual([]);
});

test("a slide keeps the channels of which more is left than noise", () => {
  const time = Float64Array.from([0, 1, 2]);
  const curve = { unit: "V", time, simulated: time, captured: time, band: 0.1 } as const;
  const channels = ["a", "b", "c", "d"].map((label) => ({ ...curve, label, isBeyondNoise: label > "b" }));
  const svg = fitFigure({ title: "A capture", subtitle: "", channels }, { document, size: "slide" });
  const words = [...svg.querySelectorAll("text")].map(({ textContent }) => textContent ?? "");
  expect(words.filter((word) => word.includes(", V"))).toEqual(
    ["c", "d"].map((label) => `${label}, V: more is left than noise`),
  );
  expect(words).toContain("No room here for: a, b");
});

test.each(["page", "phone", "slide"] as const)("what is left can be read off its scale: %s", (size) => {
  for (const left of [0, 2e-5, 0.019, 0.31, 0.99, 7, 240]) {
    for (const unit of ["V", "A"] as const) {
      const svg = drawn(left, unit, size);
      expect(overlaps(textBoxes(svg))).toEqual([]);
      for (const box of textBoxes(svg)) expect(box.left, box.text).toBeGreaterThanOrEqual(0);
      const labels = [...svg.querySelectorAll(".left-over text")].map((text) => text.textContent ?? "");
      const [high, zero, low, ...second] = labels;
      expect(zero).toBe("0");
      expect(low).toBe(`−${high}`);
      expect(high).toMatch(unit === "V" ? /^[\d.]+\u00a0[mµ]?V$/ : /^[\d.]+\u00a0[mµ]?A$/);
      expect(second).toEqual([high, zero, low]);
    }
  }
});
