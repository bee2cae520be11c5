import {
  type ChartOptions,
  headroomFigure,
  heatFigure,
  matchFigure,
  surgeBarsFigure,
  timeCurrentFigure,
  tripFigure,
  withstandFigure,
} from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import { describe, expect, it } from "vitest";
import { palette } from "../../packages/sim/src/report/figure/palette.ts";
import { everySeverity, heat, manyLimits, matrix, surge, timeCurrent, withstand } from "./chart-data.ts";
import { overlaps, textBoxes } from "./text-boxes.ts";
import { trip } from "./trip-data.ts";

const { document } = new JSDOM("").window;
type Options = Omit<ChartOptions, "document">;
const texts = (svg: Element) =>
  [...svg.querySelectorAll("text")].map((text) => (text.textContent ?? "").replaceAll("\u00a0", " "));
const headroom = (options: Options = {}, data = everySeverity()) => headroomFigure(data, { ...options, document });
const bars = (options: Options = {}, data = surge()) => surgeBarsFigure(data, { ...options, document });
const stands = (options: Options = {}, data = withstand()) => withstandFigure(data, { ...options, document });
const warmth = (options: Options = {}, data = heat()) => heatFigure(data, { ...options, document });
const curves = (options: Options = {}, data = timeCurrent()) => timeCurrentFigure(data, { ...options, document });

const trips = (options: Options = {}, data = trip()) => tripFigure(data, { ...options, document });

const cases: [string, (options: Options) => SVGSVGElement][] = [
  ["headroom, every severity", (options) => headroom(options)],
  ["headroom, 40 limits", (options) => headroom(options, manyLimits())],
  ["surge within its rating", (options) => bars(options)],
  ["surge tiny", (options) => bars(options, surge(0.001))],
  ["surge far beyond its rating", (options) => bars(options, surge(9))],
  ["surge without windows", (options) => bars(options, { ...surge(), windows: [] })],
  ["time-current", (options) => curves(options)],
  ["time-current, nothing flowed", (options) => curves(options, timeCurrent(null))],
  [
    "time-current, for hours",
    (options) => curves(options, timeCurrent({ label: "this run, RMS", current: 18, time: 9000 })),
  ],
  [
    "time-current, in microseconds",
    (options) => curves(options, timeCurrent({ label: "this run, RMS", current: 900, time: 5e-5 })),
  ],
  ["withstand, beyond", (options) => stands(options)],
  ["withstand, far inside", (options) => stands(options, withstand("inside"))],
  ["withstand, strict", (options) => stands(options, withstand("strict"))],
  ["withstand, two loads", (options) => stands(options, withstand("two loads"))],
  ["heat, warm", (options) => warmth(options)],
  ["heat, destroyed", (options) => warmth(options, heat("destroyed"))],
  ["trip, a band", (options) => trips(options)],
  ["trip, no band", (options) => trips(options, trip("none"))],
  ["trip, edges crossed", (options) => trips(options, trip("crossed"))],
  ["matrix of combinations", (options) => matchFigure(matrix(), { ...options, document })],
  ["matrix of one fuse", (options) => matchFigure(matrix(1), { ...options, document })],
  ["heat, no SCR", (options) => warmth(options, heat("fuse alone"))],
];
const forms: [string, Options][] = [
  ["wide", {}],
  ["narrow", { width: 390 }],
  ["on a slide", { size: "slide" }],
  ["dark, 1600 px", { width: 1600, height: 900, scheme: "dark" }],
];
const everyForm = cases.flatMap(([name, draw]) =>
  forms.map(([form, options]) => [`${name}, ${form}`, draw, options] as const),
);

describe.each(everyForm)("%s", (_name, draw, options) => {
  const svg = draw(options);
  const [, , width, height] = (svg.getAttribute("viewBox") ?? "").split(" ").map(Number);

  it("has rounded numbers only and no style sheet", () => {
    expect(svg.outerHTML).not.toMatch(/NaN|Infinity|undefined|null/);
    expect(svg.querySelectorAll("style, [style], svg").length).toBe(0);
    for (const element of svg.querySelectorAll("*")) {
      for (const name of ["d", "x", "y", "x1", "x2", "y1", "y2", "width", "height", "transform"]) {
        expect(element.getAttribute(name) ?? "", element.outerHTML).not.toMatch(/\d\.\d{3}|e-?\d/);
      }
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

  it("writes in the palette's colours only, whose contrast is tested", () => {
    const colors = palette(options.scheme ?? "light");
    const written = [colors.ink, colors.muted, colors.ground, colors.bandEdge, colors.exceedanceInk, colors.protector];
    const allowed = new Set([...written, ...colors.loads, ...colors.currents]);
    for (const text of svg.querySelectorAll("text")) expect(allowed).toContain(text.getAttribute("fill"));
  });

  it("carries a title and a description that its label points to", () => {
    const [title, desc] = (svg.getAttribute("aria-labelledby") ?? "").split(" ");
    expect(svg.querySelector(`#${title}`)?.textContent).not.toBe("");
    expect((svg.querySelector(`#${desc}`)?.textContent ?? "").length).toBeGreaterThan(80);
  });

  it("is the same each time", () => {
    expect(draw(options).outerHTML).toBe(svg.outerHTML);
  });
});

describe("the headroom figure", () => {
  it("keeps slide shape where the content allows, and grows where not", () => {
    for (const svg of [headroom(), bars(), curves()]) expect(svg.getAttribute("viewBox")).toBe("0 0 960 540");
    expect(Number(headroom({}, manyLimits()).getAttribute("height"))).toBeGreaterThan(540);
  });

  it("writes every severity as a tag and tells what is too close", () => {
    const written = texts(headroom());
    for (const tag of ["ok", "unknown", "used up", "withstood, too close", "beyond", "not rated", "no rating known"]) {
      expect(written).toContain(tag);
    }
  });

  it("has a dot for each limit with a headroom, on the right side of 1", () => {
    const svg = headroom();
    const dots = [...svg.querySelectorAll("[aria-label=dot] path, [aria-label=dot] circle")];
    expect(dots.length).toBe(everySeverity().limits.filter((limit) => limit.headroom !== null).length);
    const one = textBoxes(svg).find(({ text }) => text === "1");
    const numbers = textBoxes(svg).filter(({ text }) => / ×/.test(text) && !text.startsWith("Headroom"));
    const middle = ((one?.left ?? 0) + (one?.right ?? 0)) / 2;
    for (const box of numbers) {
      const value = Number(/[\d.]+/.exec(box.text)?.[0]);
      expect(value < 1 ? box.right < middle : box.left > middle, box.text).toBe(true);
    }
  });

  it("puts the part nearest its limit first and keeps each part together", () => {
    const bold = [...headroom().querySelectorAll(".headroom > text[font-weight=bold]")].map((text) => text.textContent);
    expect(bold.slice(2, 5)).toEqual(["relay radio", "crowbar", "own crowbar of the station supply"]);
  });
});

describe("the surge bars", () => {
  it("stack to their sum, on the rating's scale", () => {
    const svg = bars();
    const pieces = [...svg.querySelectorAll(".stack [aria-label=rect] rect")];
    const widths = pieces.map((piece) => Number(piece.getAttribute("width")));
    const rating = Number(
      svg
        .querySelectorAll(".stack [aria-label=rule] line")
        [svg.querySelectorAll(".stack [aria-label=rule] line").length - 1].getAttribute("x1"),
    );
    const left = Number(pieces[0].getAttribute("x"));
    const right = Number(pieces[2].getAttribute("x")) + widths[2];
    // One pixel of ground may stand behind each piece.
    expect(Math.abs((right - left) / (rating - left) - 904 / 1750)).toBeLessThan(0.004);
    expect(texts(svg)).toContain("904 A²s");
  });

  it("says what is beyond the rating, and cuts no number", () => {
    const written = texts(bars({}, surge(9))).join("\n");
    expect(written).toContain("270 % ▸ (690 A²s of 256 A²s), beyond its rating");
    expect(texts(bars()).join("\n")).not.toContain("beyond its rating");
  });
});

describe("the time-current chart", () => {
  it("draws each curve, the gates in view and the run's point", () => {
    const svg = curves();
    expect(svg.querySelectorAll("[aria-label=line] path").length).toBe(3);
    // The gate of 100 hours lies above the chart.
    expect(
      svg.querySelectorAll("[aria-label=link] [stroke-width='5'], [aria-label=link][stroke-width='5'] path").length,
    ).toBe(2);
    expect(texts(svg)).toContain("273 A");
    expect(texts(svg).join(" ")).toContain("this run, RMS: 83.5 A, 128 ms");
  });

  it("keeps every curve inside its frame", () => {
    const svg = curves();
    for (const path of svg.querySelectorAll("[aria-label=line] path")) {
      const numbers = [...(path.getAttribute("d") ?? "").matchAll(/(-?[\d.]+),(-?[\d.]+)/g)];
      for (const [, x, y] of numbers) {
        expect(Number(x)).toBeGreaterThan(80);
        expect(Number(x)).toBeLessThanOrEqual(703);
        expect(Number(y)).toBeLessThanOrEqual(486);
      }
    }
  });
});

describe("the withstand figure", () => {
  it("draws the stair of what is allowed and marks where the load went farthest beyond it", () => {
    const svg = stands();
    expect(svg.querySelectorAll(".allowed-time").length).toBe(1);
    expect(svg.querySelectorAll(".level").length).toBe(4);
    const written = texts(svg).join(" ");
    expect(written).toContain("above 20 V: 16.8 ms of 1 ms, 17 × the allowed");
    expect(written).toContain("where it went farthest beyond");
    expect(texts(svg)).toContain("peak 22.99 V");
    const [from, to] =
      /,([\d.]+)V([\d.]+)/.exec(svg.querySelector(".nearest path")?.getAttribute("d") ?? "")?.slice(1) ?? [];
    // Found lies above allowed, and upwards is longer.
    expect(Number(from)).toBeLessThan(Number(to));
  });

  it("ends the found curve at the peak, within its frame", () => {
    const [x, y] = [
      ...(/([\d.]+),([\d.]+)$/.exec(stands().querySelector(".curve path")?.getAttribute("d") ?? "") ?? []),
    ]
      .slice(1)
      .map(Number);
    const axis = textBoxes(stands()).filter(({ text }) => /^(14|24)$/.test(text));
    const [low, high] = axis.map(({ left, right }) => (left + right) / 2);
    expect(14 + (10 * (x - low)) / (high - low)).toBeCloseTo(22.99, 1);
    expect(y).toBeLessThan(axis[0].top);
  });

  it("marks nothing where the load never came above a voltage of its curve, and no stair where it stands nothing", () => {
    expect(stands({}, withstand("inside")).querySelectorAll(".nearest").length).toBe(0);
    const strict = stands({}, withstand("strict"));
    expect(strict.querySelectorAll(".level").length).toBe(0);
    expect(texts(strict).join(" ")).toContain("stands no time above its maximum");
  });

  it("tells loads that stand the same by one stair", () => {
    const svg = stands({}, withstand("two loads"));
    expect(svg.querySelectorAll(".allowed-time").length).toBe(1);
    expect(texts(svg).join(" ")).toContain("all loads stand (assumed)");
  });
});

describe("the heat figure", () => {
  it("draws both panels with their limits", () => {
    const svg = warmth();
    const limits = [...svg.querySelectorAll(".limit")].map((limit) => limit.textContent?.replaceAll("\u00a0", " "));
    expect(limits).toEqual(["SCR rated for 125 °C", "it melts at 100 %"]);
    expect(texts(svg).join(" ")).toContain("SCR fails above 250 °C, beyond the scale");
    expect(texts(svg)).toContain("main fuse, peak 100 %");
  });

  it("does not draw the temperatures of a junction that is destroyed", () => {
    const written = texts(warmth({}, heat("destroyed"))).join(" ");
    expect(written).toContain("SCR junction, beyond the scale");
    expect(written).not.toMatch(/19\d\d|1000/);
  });

  it("leaves out a panel that has no curve", () => {
    const svg = warmth({}, heat("fuse alone"));
    expect([...svg.querySelectorAll(".panel")].map((panel) => panel.getAttribute("class"))).toEqual(["panel melting"]);
  });
});

describe("a slide", () => {
  it("keeps its shape however many limits there are, shows those nearest to theirs and says how many it left out", () => {
    const svg = headroom({ size: "slide" }, manyLimits());
    expect([svg.getAttribute("width"), svg.getAttribute("height")]).toEqual(["1920", "1080"]);
    const shown = svg.querySelectorAll(".limit").length;
    expect(texts(svg)).toContain(`${40 - shown} more with more headroom, not shown`);
    expect(texts(svg)).toContain("quantity 0");
    expect(texts(svg)).not.toContain("quantity 39");
  });

  it("draws thicker lines", () => {
    const width = (svg: Element) => Number(svg.querySelector(".curve")?.getAttribute("stroke-width"));
    expect(width(warmth({ size: "slide" }))).toBeCloseTo(1.35 * width(warmth()), 5);
  });
});

describe("input", () => {
  it("keeps markup in names as text", () => {
    const title = "<img src=x onerror=alert(1)>";
    const svg = headroom({}, { ...everySeverity(), title });
    expect(svg.querySelectorAll("img").length).toBe(0);
    expect(svg.querySelector("title")?.textContent).toBe(title);
  });

  it("names everything that cannot be drawn, at once", () => {
    expect(() => headroom({}, { ...everySeverity(), limits: [] })).toThrow("there are no limits");
    const wrong = { ...surge(), parts: [{ label: "dump", i2t: Number.NaN }], rating: { i2t: 0, label: "" } };
    expect(() => bars({}, wrong)).toThrow(
      '"dump" is NaN A²s, allowed: from 0 on; the rating is 0 A²s, allowed: above 0',
    );
    expect(() => curves({}, { ...timeCurrent(), curves: [] })).toThrow("there are no curves");
    const [load] = withstand().loads;
    const falling = { ...load, found: [load.found[1], load.found[0]], peak: Number.NaN };
    expect(() => stands({}, { ...withstand(), loads: [falling] })).toThrow(
      /"relay radio" has a peak of NaN V.*; "relay radio": the voltages do not rise at 13.5 V/,
    );
    expect(() => stands({}, { ...withstand(), loads: [] })).toThrow("there are no loads");
    const short = { ...heat(), melting: [{ label: "main fuse", values: Float64Array.of(1), limits: [] }] };
    expect(() => warmth({}, short)).toThrow(/"main fuse" has 1 points, time has \d+/);
    expect(() => warmth({}, { ...heat(), temperatures: [], melting: [] })).toThrow("there are no curves");
  });
});
