import {
  type PlaneData,
  planeFigure,
  type SweepData,
  sweepFigure,
  type TolerancesData,
  tolerancesFigure,
} from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import { describe, expect, test } from "vitest";
import { overlaps, textBoxes } from "./text-boxes.ts";

const { document } = new JSDOM("").window;
const sizes = ["page", "slide", "phone"] as const;
const written = (svg: Element): string =>
  [...svg.querySelectorAll("text")]
    .map((each) => each.textContent)
    .join(" ")
    .replaceAll("\u00a0", " ");

const headed = {
  title: "How sure is it: hut",
  subtitle: "A load came above its maximum in 2 of 10 samples.",
  facts: "SCR at 15 V",
};
const tolerances: TolerancesData = {
  ...headed,
  panels: [
    {
      title: "Peak at the load, V",
      bins: Array.from({ length: 12 }, (_, i) => ({
        from: 14 + i / 4,
        to: 14.25 + i / 4,
        safe: i < 8 ? 5 + i : 0,
        endangered: i < 8 ? 0 : 3,
      })),
      lines: [
        { label: "as in the file", value: 15.1, role: "nominal" },
        { label: "its maximum", value: 15.9, role: "limit" },
      ],
      note: "3 samples never tripped",
    },
    { title: "Time to the trip, ms", bins: [{ from: 0, to: 1, safe: 4, endangered: 1 }], lines: [], note: "" },
  ],
  influences: [
    { label: "crowbar: trip voltage", value: 0.93 },
    { label: "relay radio: input capacitance behind a plug with a long name", value: -0.4 },
    { label: "ambient", value: 0.02 },
  ],
  noise: 0.1,
};

const x = { title: "crowbar: trip voltage, V", from: 14, to: 17, byDecades: false, nominal: 15 };
const y = { title: "station supply: lead length, m", from: 0.1, to: 10, byDecades: true, nominal: 1.5 };
const kinds = [
  { label: "load above its maximum", tone: "endangered", share: 0.5 },
  { label: "fuse blown", tone: "blown", share: 0.4999 },
  { label: "cannot be run", tone: "impossible", share: 0.0001 },
] as const;
const plane: PlaneData = {
  ...headed,
  x,
  y,
  kinds,
  squares: [
    { x: 0, y: 0, size: 0.5, kind: 0 },
    { x: 0, y: 0.5, size: 0.5, kind: 0 },
    { x: 0.5, y: 0, size: 0.5, kind: 1 },
    { x: 0.5, y: 0.5, size: 0.5, kind: 1 },
    { x: 0.99, y: 0.99, size: 0.01, kind: 2 },
  ],
};
const sweep: SweepData = {
  ...headed,
  x,
  kinds: kinds.slice(0, 2),
  points: [14, 15, 16, 17].map((value, i) => ({ x: value, kind: i < 2 ? 1 : 0 })),
  curves: [
    { title: "Peak at the load, V", values: [14.2, 15.2, null, 17.2] },
    { title: "Never tripped, s", values: [0, 0, 0, 0] },
  ],
};

describe.each(sizes)("on a %s", (size) => {
  test.each<[string, () => SVGSVGElement]>([
    ["tolerances", () => tolerancesFigure(tolerances, { document, size })],
    ["a plane", () => planeFigure(plane, { document, size })],
    ["a sweep", () => sweepFigure(sweep, { document, size })],
  ])("%s have no two texts over each other, none that is cut off", (_, draw) => {
    const svg = draw();
    const boxes = textBoxes(svg);
    const [, , width, height] = (svg.getAttribute("viewBox") ?? "").split(" ").map(Number);
    expect(overlaps(boxes)).toEqual([]);
    const outside = boxes.filter(
      ({ left, right, top, bottom }) => left < 0 || right > width || top < 0 || bottom > height,
    );
    expect(outside.map(({ text }) => text)).toEqual([]);
  });

  test("what is not in the picture of tolerances, and every value that matters, is named", () => {
    const words = written(tolerancesFigure(tolerances, { document, size }));
    for (const said of ["3 samples never tripped", "crowbar: trip voltage", "ambient"]) expect(words).toContain(said);
  });

  test("a plane has a letter for each kind that has room for one, and a cross where the scenario stands", () => {
    const svg = planeFigure(plane, { document, size });
    const letters = [...svg.querySelectorAll(".letters text")].map((each) => each.textContent);
    expect(letters).toEqual(["A", "B"]);
    expect(svg.querySelector(".nominal title")?.textContent).toBe("the scenario as it stands");
    expect(written(svg)).toContain("0.01 %");
  });
});

describe("what a reader who does not see the picture is told", () => {
  const told = (svg: Element) => svg.querySelector("desc")?.textContent ?? "";

  test("of tolerances: how many samples lie where, and what matters", () => {
    const words = told(tolerancesFigure(tolerances, { document }));
    expect(words).toContain(
      "Peak at the load, V: 80 samples from 14 to 17; as in the file 15.1, its maximum 15.9. 3 samples never tripped.",
    );
    expect(words).toContain("Time to the trip, ms: 5 samples from 0 to 1. Rank correlation");
    expect(words).toContain("Rank correlation with the load's peak: crowbar: trip voltage 0.93, ");
    const one = [{ ...tolerances.panels[1], bins: [{ from: 0, to: 1, safe: 0, endangered: 1 }] }];
    expect(told(tolerancesFigure({ ...tolerances, panels: one }, { document }))).toContain(": 1 sample from 0 to 1.");
    expect(told(tolerancesFigure({ ...tolerances, influences: [] }, { document }))).not.toContain("Rank correlation");
  });

  test("of a plane: its ends, where the scenario stands, and the share of each kind", () => {
    expect(told(planeFigure(plane, { document }))).toContain("V: 14 to 17, the scenario at 15.");
    const outside = planeFigure({ ...plane, x: { ...x, nominal: null } }, { document });
    expect(told(outside)).toContain("V: 14 to 17.");
    expect(outside.querySelector(".nominal")).toBeNull();
  });
});

test("where no value matters more than chance, that is said", () => {
  const words = written(tolerancesFigure({ ...tolerances, influences: [] }, { document }));
  expect(words).not.toContain("crowbar: trip voltage");
});

describe("data that cannot be drawn are refused with everything that is wrong", () => {
  test("tolerances", () => {
    const [first] = tolerances.panels;
    const panels = [
      { ...first, title: "A", bins: [] },
      { ...first, title: "B", bins: [{ from: 1, to: 1, safe: 0, endangered: 0 }] },
      { ...first, title: "C", lines: [{ label: "limit", value: Number.NaN, role: "limit" as const }] },
    ];
    expect(() =>
      tolerancesFigure({ ...tolerances, panels, influences: [{ label: "D", value: 2 }] }, { document }),
    ).toThrow(
      'these data cannot be drawn: "A" has no bins; "B" has a bin without width; "C" has a line that is not finite; the correlation of "D" does not lie between −1 and 1',
    );
  });

  test("a plane", () => {
    const wrong = { ...plane, x: { ...x, to: 14 }, y: { ...y, from: 0 }, squares: [{ x: 0, y: 0, size: 1, kind: 9 }] };
    expect(() => planeFigure(wrong, { document })).toThrow(
      'these data cannot be drawn: the axis "crowbar: trip voltage, V" has no length; the axis "station supply: lead length, m" has no length; a square is of no kind',
    );
  });

  test("a sweep", () => {
    for (const wrong of [{ points: sweep.points.slice(0, 1) }, { curves: [{ title: "A", values: [1] }] }])
      expect(() => sweepFigure({ ...sweep, ...wrong }, { document })).toThrow("a sweep has at least two points");
  });
});
