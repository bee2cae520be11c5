import { faultFigure, figureTimeAxis, legendFigure, placedFaultFigure, sharedAxes } from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import { describe, expect, it } from "vitest";
import { capacitorDump, creep, harmless, hiccup, shortedPass } from "./synthetic.ts";
import { overlaps, textBoxes } from "./text-boxes.ts";

const { document } = new JSDOM("").window;
const several = [hiccup(), hiccup(2.1), shortedPass()];
const axes = sharedAxes(several);
const panels = ["voltage", "states"] as const;

describe("axes in common", () => {
  it("cover every run, every window and every current", () => {
    expect(axes.range).toEqual([0, 10]);
    for (const { voltages, currents, window } of several) {
      for (const value of [...voltages.flatMap(({ values }) => [...values]), window.minimum, window.maximum]) {
        expect(value).toBeGreaterThanOrEqual(axes.voltage?.[0] ?? Infinity);
        expect(value).toBeLessThanOrEqual(axes.voltage?.[1] ?? -Infinity);
      }
      for (const { values } of currents)
        expect(Math.max(...values)).toBeLessThanOrEqual(axes.current?.[1] ?? -Infinity);
    }
    expect(axes.devices).toEqual(["supply", "SCR", "main fuse 30 A", "main fuse 20 A", "radio"]);
  });

  it("put the same time and the same voltage at the same place in each figure", () => {
    const places = several.map((data) => placedFaultFigure(data, options(320)).places);
    for (const { plots, axis } of places) {
      expect(axis.position(3.2)).toBe(places[0].axis.position(3.2));
      expect(plots[0].frame).toEqual(places[0].plots[0].frame);
      expect(plots[0].value(60)).toBeCloseTo(places[0].plots[0].value(60) ?? Number.NaN, 12);
    }
  });

  it("are logarithmic only where that serves every run", () => {
    expect(axes.timeScale).toBe("linear");
    expect(sharedAxes([shortedPass(), capacitorDump()]).timeScale).toBe("logarithmic");
  });

  it("begin a logarithmic axis at the same delay", () => {
    const pair = [shortedPass(), capacitorDump()];
    const shared = sharedAxes(pair);
    const [a, b] = pair.map((data) => figureTimeAxis({ ...data, faultTime: 0.01 }, { axes: shared, frame: "bare" }));
    expect(a.position(0.013)).toBe(b.position(0.013));
  });

  it("may be cut to a range", () => {
    expect(sharedAxes(several, [0, 2]).range).toEqual([0, 2]);
    expect(() => sharedAxes([])).toThrow("there are no data");
  });
});

describe.each([300, 320, 460, 720])("a bare figure of %i px", (width) => {
  const drawn = several.map((data) => faultFigure(data, options(width)));

  it("has the height asked for, no list, no legend, no mark", () => {
    for (const svg of drawn) {
      expect(svg.getAttribute("viewBox")).toBe(`0 0 ${width} 220`);
      expect(svg.querySelectorAll(".event-list, .event-mark, .repetitions").length).toBe(0);
    }
  });

  it("writes nothing over anything else, nothing beyond the edge, nothing below 12 px", () => {
    for (const svg of drawn) {
      const boxes = textBoxes(svg);
      expect(overlaps(boxes)).toEqual([]);
      for (const box of boxes) {
        expect(box.left, box.text).toBeGreaterThanOrEqual(0);
        expect(box.right, box.text).toBeLessThanOrEqual(width);
        expect(box.bottom, box.text).toBeLessThanOrEqual(220);
        expect(box.size).toBeGreaterThanOrEqual(12);
      }
    }
  });

  it("tells its unit, its title and the same to who cannot see it", () => {
    const [svg] = drawn;
    const texts = [...svg.querySelectorAll(".header text")].map((text) => text.textContent);
    expect(texts[1]).toBe("Voltage, V");
    expect(texts[0]?.slice(0, 12)).toBe("Hiccup suppl");
    expect(svg.querySelector("desc")?.textContent).toContain(several[0].subtitle);
  });
});

describe("a run that came to rest early", () => {
  it("is drawn on with its last values to the end of the shared axis, and only then", () => {
    const rested = { ...shortedPass(), restsUntil: 10 };
    const last = (svg: Element) => {
      const path = svg.querySelector(".curves.voltage .curve:last-of-type path")?.getAttribute("d") ?? "";
      return Number(/([\d.]+),[\d.]+$/.exec(path)?.[1]);
    };
    const axis = figureTimeAxis(rested, options(320));
    expect(last(faultFigure(rested, options(320)))).toBeCloseTo(axis.right, 1);
    expect(last(faultFigure(shortedPass(), options(320)))).toBeCloseTo(axis.position(0.6), 1);
  });
});

describe("the legend for all of them", () => {
  it("names each line and area once, without peaks", () => {
    const svg = legendFigure(shortedPass(), { document, width: 640, panels: ["voltage"] });
    const texts = [...svg.querySelectorAll("text")].map((text) => text.textContent?.replaceAll("\u00a0", " "));
    expect(texts).toEqual([
      "radio",
      "protected side",
      "supply terminals",
      "allowed 11.7–15.8 V",
      "above what is allowed",
    ]);
    expect(overlaps(textBoxes(svg))).toEqual([]);
  });
});

it("one run alone shares axes with itself", () => {
  for (const data of [creep(), harmless()]) {
    expect(() => faultFigure(data, { document, axes: sharedAxes([data]), frame: "bare", width: 300 })).not.toThrow();
  }
});

function options(width: number) {
  return { document, axes, frame: "bare", width, height: 220, panels } as const;
}
