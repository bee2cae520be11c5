import { faultFigure, figureTimeAxis, type WaveformData } from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import { describe, expect, it } from "vitest";
import { capacitorDump, creep, hiccup, shortedPass } from "./synthetic.ts";
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

describe("the bars of states", () => {
  const all = [shortedPass(), hiccup(), hiccup(0.03), creep(), capacitorDump()];

  it("hold no word that reaches over more than its own state", () => {
    for (const data of all) {
      for (const width of [390, 670, 960]) {
        const svg = faultFigure(data, { document, width });
        const axis = figureTimeAxis(data, { width });
        const spans = data.states.flatMap((row) => row.spans);
        const inBars = textBoxes(svg.querySelector(".state-tags") as Element).filter(
          ({ text, left, right }) => left > axis.left && right < axis.right && spans.some(({ tag }) => tag === text),
        );
        expect(inBars.length).toBeGreaterThan(0);
        for (const { text, left, right } of inBars) {
          const own = spans.filter(({ tag }) => tag === text);
          const around = own.some(({ from, to }) => axis.position(from) <= left && axis.position(to) >= right);
          expect(around, `${text} at ${left} of ${width}`).toBe(true);
        }
        expect(
          textBoxes(svg)
            .map(({ text }) => text)
            .join("\n"),
        ).not.toMatch(/[◂▸] |\w \/ \w/);
        expect(overlaps(textBoxes(svg)), `${width}`).toEqual([]);
      }
    }
  });

  it("leave what found no room to a note with its times or how often", () => {
    const words = (data: WaveformData, width: number) =>
      textBoxes(faultFigure(data, { document, width })).map(({ text }) => text.replaceAll("\u00a0", " "));
    expect(words(shortedPass(), 960)).toContain("arcing at 86.2 ms");
    expect(words(hiccup(), 390)).toContain("blocking 17 times, conducting 16 times");
  });
});
