import { faultFigure, type WaveformData } from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import { describe, expect, it } from "vitest";
import { creep, hiccup } from "./synthetic.ts";
import { overlaps, textBoxes } from "./text-boxes.ts";

const { document } = new JSDOM("").window;

describe("words that need more room than usual", () => {
  it("a time axis that counts from an instant of its own keeps its title off its numbers", () => {
    const data = creep();
    const from = data.events[1].time - 7e-3;
    for (const width of [640, 670, 720, 960]) {
      const svg = faultFigure(data, { document, width, range: [from, from + 0.02], timeScale: "linear" });
      const boxes = textBoxes(svg);
      expect(boxes.map(({ text }) => text).join("\n"), `${width}`).toMatch(/^Time from .* on$/m);
      expect(overlaps(boxes), `${width}`).toEqual([]);
    }
  });

  it("a long event takes more lines of a phone's list instead of losing its end", () => {
    const long = "radio supply trips on its over-current limit and tries again with the radio still asleep behind it";
    const given: WaveformData = hiccup();
    const events = given.events.map((event) => ({ ...event, label: `${long}: ${event.label}` }));
    for (const width of [390, 700]) {
      const list = faultFigure({ ...given, events }, { document, width }).querySelector(".event-list");
      expect(list?.textContent).toMatch(/times/);
      expect(list?.textContent).not.toContain("…");
    }
  });
});
