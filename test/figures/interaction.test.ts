import { faultFigure, figurePlaces, figureTimeAxis, placedFaultFigure, readingsAt } from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import { describe, expect, it } from "vitest";
import { capacitorDump, creep, hiccup, shortedPass, twoRadios } from "./synthetic.ts";
import { textBoxes } from "./text-boxes.ts";

const { document } = new JSDOM("").window;
const indices = (element: Element) => (element.getAttribute("data-event") ?? "").split(" ").map(Number);

const cases = [
  ["five decades", shortedPass(), {}],
  ["16 trips", hiccup(), {}],
  ["16 trips, narrow", hiccup(), { width: 390 }],
  ["two radios, wide", twoRadios(), { width: 1600, height: 900 }],
  ["a window", shortedPass(), { range: [0.05, 0.2] }],
  ["voltage alone", creep(), { panels: ["voltage"] }],
] as const;

describe.each(cases)("the places of %s", (_name, data, options) => {
  const { figure, places } = placedFaultFigure(data, { ...options, document });

  it("are those of the figure", () => {
    expect(figure.getAttribute("viewBox")).toBe(`0 0 ${places.width} ${places.height}`);
    const without = figurePlaces(data, options);
    expect(JSON.stringify(without)).toBe(JSON.stringify(places));
    const axis = figureTimeAxis(data, options);
    for (const time of [data.faultTime, ...data.events.map((event) => event.time)]) {
      expect(places.axis.position(time)).toBe(axis.position(time));
    }
  });

  it("have a plot for each panel, with the axis' ends as its sides", () => {
    const panels = [...figure.querySelectorAll(".panel")].map((panel) => panel.getAttribute("class")?.split(" ")[1]);
    expect(places.plots.map(({ name }) => name).sort()).toEqual(panels.sort());
    for (const { frame } of places.plots) {
      expect([frame.left, frame.right]).toEqual([places.axis.left, places.axis.right]);
      expect(frame.bottom).toBeGreaterThan(frame.top);
    }
  });

  it("have parts that no name of a device stands in, so that a line through them strikes out none", () => {
    const parts = places.plots.flatMap((plot) => plot.parts);
    const names = textBoxes(figure).filter(({ text }) => data.states.some(({ label }) => label === text));
    expect(parts.length).toBeGreaterThanOrEqual(places.plots.length);
    for (const { left, right, top, bottom, text } of names) {
      const struck = parts.some(
        (part) => part.left < right && left < part.right && part.top < bottom && top < part.bottom,
      );
      expect(struck, text).toBe(false);
    }
  });

  it("turn a height into the value that is drawn there", () => {
    for (const { name, frame, value } of places.plots) {
      const ticks = textBoxes(figure).filter(({ right }) => Math.abs(right - (frame.left - 8)) < 0.01);
      const mine = ticks.filter(({ top, bottom }) => (top + bottom) / 2 > frame.top - 6 && bottom < frame.bottom + 6);
      if (name === "states") continue;
      expect(mine.length).toBeGreaterThan(1);
      for (const { text, top } of mine) {
        // A number's middle stands on its line: 12 px type, its middle 0.36 of that above its baseline.
        const y = top + 0.76 * 12 - 0.36 * 12;
        const shown = Number(text.replace("−", "-"));
        expect(value(y) ?? Number.NaN).toBeCloseTo(shown, shown > 50 ? 0 : 1);
      }
    }
  });

  it("lie where marks and lines are drawn, and name the same events", () => {
    const marks = [...figure.querySelectorAll(".event-mark")];
    expect(places.marks.map(({ events }) => events)).toEqual(marks.map(indices));
    for (const [i, mark] of marks.entries()) {
      const x = Number(mark.querySelector("text")?.getAttribute("x"));
      const { left, right } = places.marks[i].frame;
      expect((left + right) / 2).toBeCloseTo(x, 1);
    }
    const lines = [...figure.querySelectorAll(".event-list [data-event]")];
    expect(places.list.map(({ events }) => events)).toEqual(lines.map(indices));
    for (const [i, line] of lines.entries()) {
      const { left, right, top, bottom } = places.list[i].frame;
      for (const box of textBoxes(line)) {
        expect(box.left).toBeGreaterThanOrEqual(left);
        expect(box.right).toBeLessThanOrEqual(right + 0.01);
        expect((box.top + box.bottom) / 2).toBeGreaterThan(top);
        expect((box.top + box.bottom) / 2).toBeLessThan(bottom);
      }
    }
  });
});

describe("event marks", () => {
  it("carry the indices of all that they stand for", () => {
    const data = hiccup();
    const svg = faultFigure(data, { document });
    const told = [...svg.querySelectorAll(".event-list [data-event]")].flatMap(indices);
    expect(told.sort((a, b) => a - b)).toEqual(data.events.map((_, i) => i));
    for (const line of svg.querySelectorAll(".event-list [data-event]")) {
      expect(new Set(indices(line).map((i) => data.events[i].label)).size).toBe(1);
    }
    for (const strokes of svg.querySelectorAll(".repetitions")) expect(indices(strokes).length).toBeGreaterThan(3);
  });

  it("hold no listener and nothing that takes the focus", () => {
    const svg = faultFigure(hiccup(), { document });
    expect(svg.outerHTML).not.toMatch(/\son\w+=|tabindex|<a\b|<script/);
  });
});

describe("readings at a time", () => {
  const data = shortedPass();

  it("lie on the straight line between two rows", () => {
    const row = data.time.findIndex((time) => time > 0.05);
    const [a, b] = [row - 1, row];
    const middle = (data.time[a] + data.time[b]) / 2;
    const { values } = data.voltages[0];
    expect(readingsAt(data, middle).voltages[0].value).toBeCloseTo((values[a] + values[b]) / 2, 12);
    expect(readingsAt(data, middle).sinceZero).toBeCloseTo(middle - 0.01, 12);
  });

  it("are those just after an event at its instant", () => {
    const fires = data.events[1].time;
    const { states, currents } = readingsAt(data, fires);
    expect(states.find(({ label }) => label === "SCR")).toEqual({ label: "SCR", tag: "conducting", tone: "active" });
    expect(currents.find(({ label }) => label === "SCR")?.value).toBe(60);
    const before = readingsAt(data, fires - 1e-9);
    expect(before.states.find(({ label }) => label === "SCR")?.tag).toBe("blocking");
    expect(before.currents.find(({ label }) => label === "SCR")?.value).toBeCloseTo(0, 6);
  });

  it("stay at the ends beyond them, and refuse what is no time", () => {
    expect(readingsAt(data, -1).voltages[0].value).toBe(data.voltages[0].values[0]);
    expect(readingsAt(data, 99).voltages[0].value).toBe(data.voltages[0].values[data.time.length - 1]);
    expect(() => readingsAt(data, Number.NaN)).toThrow("time is NaN");
  });

  it("agree with what is drawn", () => {
    const dump = capacitorDump();
    const { figure, places } = placedFaultFigure(dump, { document, panels: ["current"] });
    const at = dump.time[Math.floor(dump.time.length / 2)];
    const path = figure.querySelector(".curves.current .curve path")?.getAttribute("d") ?? "";
    const points = [...path.matchAll(/([\d.]+),([\d.]+)/g)].map(([, x, y]) => [Number(x), Number(y)]);
    const near = points.reduce((a, b) =>
      Math.abs(b[0] - places.axis.position(at)) < Math.abs(a[0] - places.axis.position(at)) ? b : a,
    );
    const drawn = places.plots[0].value(near[1]) ?? Number.NaN;
    const read = readingsAt(dump, places.axis.invert(near[0])).currents[0].value;
    expect(Math.abs(drawn - read)).toBeLessThan(0.02 * Math.max(1, Math.abs(read)));
  });
});
