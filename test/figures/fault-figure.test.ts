import { type FigureOptions, faultFigure, figureTimeAxis, type WaveformData } from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import { describe, expect, it } from "vitest";
import { listEvents } from "../../packages/sim/src/report/figure/events.ts";
import { capacitorDump, creep, harmless, hiccup, shortedPass, twoRadios } from "./synthetic.ts";
import { overlaps, textBoxes } from "./text-boxes.ts";

const { document } = new JSDOM("").window;
const draw = (data: WaveformData, options: Omit<FigureOptions, "document"> = {}) =>
  faultFigure(data, { ...options, document });
const texts = (svg: Element) => [...svg.querySelectorAll("text")].map((text) => text.textContent ?? "");
/** Numbers keep to their units by a no-break space; tests read plain ones. */
const plain = (text: string) => text.replaceAll("\u00a0", " ");

const cases: [string, WaveformData, Omit<FigureOptions, "document">][] = [
  ["five decades", shortedPass(), {}],
  ["five decades, narrow", shortedPass(), { width: 390 }],
  ["five decades, linear", shortedPass(), { timeScale: "linear" }],
  ["a window of 40 µs", shortedPass(), { range: [0.01102, 0.01106], timeScale: "linear" }],
  ["a window of 40 µs, logarithmic", shortedPass(), { range: [0.01102, 0.01106], timeScale: "logarithmic" }],
  ["before the fault only", shortedPass(), { range: [0, 0.008], timeScale: "logarithmic" }],
  ["16 trips", hiccup(), {}],
  ["16 trips, narrow", hiccup(), { width: 390 }],
  ["16 trips, logarithmic", hiccup(), { timeScale: "logarithmic" }],
  ["317 trips", hiccup(0.03), {}],
  ["317 trips, narrow", hiccup(0.03), { width: 390 }],
  ["two hours", creep(), {}],
  ["two hours, logarithmic", creep(), { timeScale: "logarithmic" }],
  ["two radios and many events", twoRadios(), {}],
  ["two radios, linear", twoRadios(), { timeScale: "linear" }],
  ["two radios, narrow", twoRadios(), { width: 390 }],
  ["two radios, 1024 px", twoRadios(), { width: 1024, height: 700 }],
  ["a dump of 700 A", capacitorDump(), {}],
  ["a dump of 700 A, narrow", capacitorDump(), { width: 390 }],
  ["nothing happens", harmless(), {}],
  ["voltage alone", shortedPass(), { panels: ["voltage"], height: 360 }],
  ["current alone", capacitorDump(), { panels: ["current"], height: 300 }],
  ["states alone, narrow", hiccup(), { panels: ["states"], width: 390 }],
  ["wide", shortedPass(), { width: 1600, height: 900 }],
];

describe.each(cases)("%s", (_name, data, options) => {
  const svg = draw(data, options);
  const width = Number(svg.getAttribute("width"));
  const height = Number(svg.getAttribute("height"));

  it("has numbers only, inside the picture", () => {
    expect(svg.outerHTML).not.toMatch(/NaN|Infinity|undefined|null/);
    for (const path of svg.querySelectorAll("path")) {
      expect(path.getAttribute("d")).toMatch(/^[MLHVhZ0-9.,\- ]+$/);
    }
  });

  it("writes nothing over anything else, nothing beyond the edge, nothing below 12 px", () => {
    const boxes = textBoxes(svg);
    expect(overlaps(boxes)).toEqual([]);
    for (const box of boxes) {
      expect(box.left, box.text).toBeGreaterThanOrEqual(0);
      expect(box.right, box.text).toBeLessThanOrEqual(width);
      expect(box.bottom, box.text).toBeLessThanOrEqual(height);
      expect(box.size, box.text).toBeGreaterThanOrEqual(12);
    }
  });

  it("carries a title and a description that its label points to", () => {
    const [title, desc] = (svg.getAttribute("aria-labelledby") ?? "").split(" ");
    expect(svg.querySelector(`#${title}`)?.textContent).toBe(data.title);
    expect(svg.querySelector(`#${desc}`)?.textContent).toContain(data.subtitle);
  });
});

describe("panels", () => {
  it("draws the three panels, or those asked for", () => {
    const names = (svg: Element) => [...svg.querySelectorAll(".panel")].map((panel) => panel.getAttribute("class"));
    expect(names(draw(shortedPass())).sort()).toEqual(["panel current", "panel states", "panel voltage"]);
    expect(names(draw(shortedPass(), { panels: ["current"] }))).toEqual(["panel current"]);
  });

  it("keeps slide shape where the content allows", () => {
    for (const data of [shortedPass(), hiccup(), hiccup(0.03), creep(), capacitorDump()]) {
      expect(draw(data).getAttribute("viewBox")).toBe("0 0 960 540");
    }
  });

  it("shades what exceeds the window, and only then", () => {
    expect(draw(creep()).querySelectorAll(".exceedance").length).toBe(1);
    expect(texts(draw(creep()))).toContain("above what is allowed");
    expect(draw(harmless()).querySelectorAll(".exceedance").length).toBe(0);
    expect(texts(draw(harmless()))).not.toContain("above what is allowed");
  });

  it("does not shade what only the protector or the supply saw", () => {
    const data = harmless();
    const high = { ...data, window: { minimum: 11, maximum: Math.max(...data.voltages[0].values) + 0.05 } };
    expect(Math.max(...data.voltages[1].values)).toBeGreaterThan(high.window.maximum);
    expect(draw(high).querySelectorAll(".exceedance").length).toBe(0);
  });

  it("begins the shading where the curve crosses the limit", () => {
    const data = creep(3);
    const svg = draw(data, { timeScale: "linear" });
    const { time, voltages, window } = data;
    const [low, high] = [voltages[0].values[1], voltages[0].values[2]];
    const crossing = time[1] + ((window.maximum - low) / (high - low)) * (time[2] - time[1]);
    const start = Number(/^M([\d.]+)/.exec(svg.querySelector(".exceedance")?.getAttribute("d") ?? "")?.[1]);
    expect(Math.abs(start - figureTimeAxis(data, { timeScale: "linear" }).position(crossing))).toBeLessThan(0.02);
  });

  it("writes every state of every device as a text", () => {
    for (const data of [shortedPass(), hiccup(), hiccup(0.03), creep()]) {
      for (const width of [960, 390]) {
        const written = draw(data, { width }).querySelector(".state-tags")?.textContent ?? "";
        for (const row of data.states) for (const span of row.spans) expect(written).toContain(span.tag);
      }
    }
  });

  it("compresses the current scale only where a spike dwarfs the rest, and says so", () => {
    const note = (data: WaveformData) => texts(draw(data)).some((text) => text.startsWith("compressed above"));
    expect(note(capacitorDump())).toBe(true);
    expect(note(hiccup())).toBe(false);
    expect(note(creep())).toBe(false);
  });

  it("tells a limit far above the curves instead of drawing it", () => {
    const svg = draw(hiccup());
    expect(plain(texts(svg).join(" "))).toContain("SCR surge rating 300 A, beyond the scale");
    expect([...svg.querySelectorAll(".limit")].map((limit) => plain(limit.textContent ?? ""))).toEqual([
      "main fuse melts above 46 A",
    ]);
  });
});

describe("events", () => {
  it("numbers each in order of time, with its cause", () => {
    const listed = [...draw(shortedPass()).querySelectorAll(".event-list .event")].map((item) =>
      [...item.querySelectorAll("text")].map((text) => text.textContent).join(" "),
    );
    expect(listed).toEqual([
      "1 0 s the pass transistor shorts",
      "2 1.03 ms the SCR fires",
      "3 1.5 ms the radio switches off",
      "4 86.2 ms the main fuse melts",
      "5 86.9 ms the main fuse is open",
    ]);
  });

  it("tells hundreds of trips in one line, with count and rhythm", () => {
    const data = hiccup(0.03);
    const svg = draw(data);
    const fired = data.events.filter((event) => event.label === "the SCR fires");
    const listed = [...svg.querySelectorAll(".event-list .event")].map((item) =>
      plain([...item.querySelectorAll("text")].map((text) => text.textContent).join(" ")),
    );
    expect(fired.length).toBeGreaterThan(300);
    expect(listed.length).toBe(3);
    expect(listed[1]).toContain(`the SCR fires, ${fired.length} times about every 30 ms, last at`);
    expect(svg.querySelectorAll(".rule").length).toBeLessThanOrEqual(3);
    const paths = [...svg.querySelectorAll(".repetitions path")].map((path) => path.getAttribute("d") ?? "");
    const strokes = paths.flatMap((d) => [...d.matchAll(/M(\d+)/g)].map(([, x]) => Number(x))).sort((a, b) => a - b);
    // Over 580 of 610 pixels; at one a pixel they were a grey bar, which read as a value above the plot.
    expect(strokes.length).toBeGreaterThan(150);
    for (const [i, x] of strokes.slice(1).entries()) expect(x - strokes[i]).toBeGreaterThanOrEqual(3);
  });

  it("says how many it left out", () => {
    const data = twoRadios();
    const svg = draw(data);
    const badges = svg.querySelectorAll(".event-list rect").length;
    expect(texts(svg)).toContain(`and ${data.events.length - badges} more, not marked`);
    expect(badges).toBeLessThan(data.events.length);
  });

  it("tells first what decided the outcome where room is short, in order of time", () => {
    const events = ["fault", "limit", "trip", "failure", "melts", "open"].map((label, time) => {
      return { time, label, important: true, decisive: ["trip", "failure", "melts"].includes(label), explanation: "" };
    });
    const told = (most: number) => listEvents(events, 0, [0, 9], most).listed.map(({ text }) => text);
    expect([1, 3, 4].map(told)).toEqual([
      ["trip"],
      ["trip", "failure", "melts"],
      ["fault", "trip", "failure", "melts"],
    ]);
  });

  it("keeps the states of what decided the outcome on a slide that has not room for all, in the order of the line", () => {
    const change = (label: string, decisive?: true) => {
      const spans = ["idle", "active"].map((tone, i) => ({ from: 0.3 * i, to: 0.3 * (i + 1), tag: tone, tone }));
      return { label, spans, ...(decisive && { decisive }) } as WaveformData["states"][number];
    };
    const names = ["charger", "panel", "supply", "charger fuse", "panel fuse", "supply fuse", "contact"];
    const states = [...names.map((name) => change(name)), change("main fuse", true), change("SCR", true)];
    const told = texts(draw({ ...shortedPass(), states }, { size: "slide" }));
    const shown = states.map(({ label }) => label).filter((label) => told.includes(label));
    expect(shown.slice(-2)).toEqual(["main fuse", "SCR"]);
    expect(shown.length).toBeLessThan(states.length);
  });

  it("shows those of the range only", () => {
    const svg = draw(shortedPass(), { range: [0.05, 0.2] });
    expect([...svg.querySelectorAll(".event-list .event")].length).toBe(2);
  });
});

describe("input", () => {
  it("keeps markup in names as text", () => {
    const data = { ...harmless(), title: "<img src=x onerror=alert(1)>", subtitle: "</svg><script>1</script>" };
    const svg = draw(data);
    expect(svg.querySelectorAll("img, script").length).toBe(0);
    expect(svg.querySelector("title")?.textContent).toBe(data.title);
  });

  it("names everything that cannot be drawn, at once", () => {
    const data = creep(3);
    const broken: WaveformData = {
      ...data,
      time: Float64Array.of(0, 2, 1),
      voltages: [{ label: "radio", role: "load", values: Float64Array.of(1, Number.NaN, 2) }],
      currents: [{ label: "lead", values: Float64Array.of(1) }],
      window: { minimum: 15, maximum: 11 },
    };
    const message = 'time falls at [2], from 2 to 1; "radio" is NaN at point 1; "lead" has 1 points, time has 3; ';
    expect(() => draw(broken)).toThrow(message);
    expect(() => draw(broken)).toThrow("the window from 15 to 11 V is empty");
  });

  it("refuses a range that shows nothing", () => {
    expect(() => draw(shortedPass(), { range: [3, 4] })).toThrow(
      "range 3 to 4 s shows nothing, allowed: within 0 to 0.6 s",
    );
  });
});

describe("50 000 points", () => {
  it("draws no more than four points per pixel column and keeps the peak", () => {
    const count = 50_000;
    const time = Float64Array.from({ length: count }, (_, i) => i * 1e-4);
    const values = time.map((t) => 13 + Math.sin(t));
    values[31_234] = 19.7;
    const data = { ...harmless(), time, faultTime: 0.5, voltages: [{ label: "radio", role: "load" as const, values }] };
    const bare = { ...data, currents: [], states: [], events: [] };
    const axis = figureTimeAxis(bare, {});
    const svg = draw(bare);
    const path = svg.querySelector(".curve path")?.getAttribute("d") ?? "";
    expect(path.split("L").length).toBeLessThanOrEqual(4 * Math.ceil(axis.right - axis.left));
    expect(path).toContain(
      `L${axis
        .position(time[31_234])
        .toFixed(2)
        .replace(/\.?0+$/, "")},`,
    );
    expect(texts(svg).map(plain)).toContain("radio, peak 19.7 V");
  });
});

describe("the work of drawing", () => {
  const count = (svg: Element) => svg.querySelectorAll("*").length;

  it("does not grow with the trips beyond what pixels can tell", () => {
    expect(hiccup(0.03).events.length).toBeGreaterThan(15 * hiccup().events.length);
    expect(count(draw(hiccup(0.03)))).toBeLessThan(1.5 * count(draw(hiccup())));
    expect(count(draw(hiccup(0.03)))).toBeLessThan(300);
  });

  it("is the same for data that a worker has posted", () => {
    for (const data of [shortedPass(), hiccup()]) {
      expect(draw(structuredClone(data)).outerHTML).toBe(draw(data).outerHTML);
    }
  });
});

it("a fault whose clock is off by its last digit strikes at 0 s", () => {
  const event = { time: 0.02 + 2 ** -58, label: "the fault strikes", explanation: "", important: true };
  expect(event.time).toBeGreaterThan(0.02);
  expect(listEvents([event], 0.02, [0, 1], 5).listed[0]?.when).toBe("0 s");
  expect(listEvents([{ ...event, time: 0.02 + 1e-9 }], 0.02, [0, 1], 5).listed[0]?.when).toBe("1 ns");
});
