import { describe, expect, test } from "vitest";
import { planeData, sweepData } from "../../../packages/sim/src/figures.ts";
import { type WhatIf, whatIfHeadline } from "../../../packages/sim/src/index.ts";
import { RUN_FIGURES } from "../../../packages/sim/src/study/pool/figures.ts";
import { OUTCOMES, type Outcome } from "../../../packages/sim/src/study/pool/outcome.ts";
import { PLANE } from "../../../packages/sim/src/study/whatif/plane.ts";
import { renderWhatIf, whatIfCsv, whatIfData } from "../../../packages/sim/src/study/whatif/report.ts";

const TRIP = {
  path: ["crowbar", "trip voltage"],
  label: "crowbar: trip voltage",
  dimension: "voltage",
  unit: "V",
  nominal: 15,
  low: 14,
  high: 16,
  byDecades: false,
} as const;
const FILTER = {
  path: ["crowbar", "sense filter"],
  label: "crowbar: sense filter",
  dimension: "time",
  unit: "us",
  nominal: 900,
  low: 5,
  high: 500,
  byDecades: true,
} as const;
const SAFE = "load safe, fuse blown";
const ABOVE = "load above its maximum, within what it stands";

const point = (x: number, y: number | null, outcome: Outcome, more: { close?: boolean; trip?: number } = {}) => ({
  x,
  y,
  outcome,
  close: more.close ?? false,
  figures: RUN_FIGURES.map(({ column }) =>
    column === "trip_s" ? (more.trip ?? Number.NaN) : column === "peak_V" ? x : Number.NaN,
  ),
});

const sweep: WhatIf = {
  title: "hut",
  text: "",
  file: "hut.yaml",
  x: TRIP,
  y: null,
  points: [point(14, null, SAFE), point(15, null, SAFE), point(15.5, null, ABOVE), point(16, null, ABOVE)],
  cells: [],
  isComplete: true,
  broken: [],
};
const at = (outcome: Outcome): number => OUTCOMES.indexOf(outcome);
/** A quarter of the plane is cut by the boundary, its right half above the maximum; the rest is safe. */
const plane: WhatIf = {
  ...sweep,
  y: FILTER,
  points: [point(14, 5, SAFE), point(16, 500, ABOVE)],
  cells: [
    [0, 0, [SAFE, ABOVE, SAFE, ABOVE]] as const,
    ...[
      [1, 0],
      [0, 1],
      [1, 1],
    ].map(([i, j]) => [i, j, [SAFE, SAFE, SAFE, SAFE]] as const),
  ].map(([i, j, corners]) => ({
    i: (i * PLANE) / 2,
    j: (j * PLANE) / 2,
    size: PLANE / 2,
    corners: corners.map((each) => at(each as Outcome)) as [number, number, number, number],
  })),
};

describe("in words", () => {
  test("shares of a range and of a plane, the worst first; a whole one has no shares", () => {
    expect(whatIfHeadline(sweep)).toBe(`50 % of the range: ${ABOVE}; 50 %: ${SAFE}.`);
    expect(whatIfHeadline(plane)).toBe(`13 % of the plane: ${ABOVE}; 87 %: ${SAFE}.`);
    const safe = sweep.points.slice(0, 2);
    expect(whatIfHeadline({ ...sweep, points: safe })).toBe(`The whole range: ${SAFE}.`);
  });

  test("a sweep tells between which values the outcome changes", () => {
    const text = renderWhatIf(sweep, 120);
    expect(text).toContain("crowbar: trip voltage from 14 V to 16 V. 4 simulations.");
    expect(text).toContain(`  - Between 15 V and 15.5 V: from ${SAFE} to ${ABOVE}.`);
    expect(text.match(/Between /g)).toHaveLength(1);
    expect(text).not.toMatch(/too close|gave no verdict|boundary/);
    expect(renderWhatIf({ ...sweep, points: sweep.points.slice(0, 1) }, 120)).toContain("1 simulation.");
  });

  test("a plane tells how fine its boundaries are, and what would make them finer", () => {
    expect(renderWhatIf(plane, 120)).toContain(
      "crowbar: trip voltage from 14 V to 16 V; crowbar: sense filter from 5 us to 500 us by decades. 2 simulations.",
    );
    expect(renderWhatIf(plane, 200)).toContain(
      "Every boundary that the coarse lattice shows is drawn to a 64th of the sides",
    );
    expect(renderWhatIf({ ...plane, isComplete: false }, 200)).toContain("--most asks for more.");
  });

  test.each([
    [1, "1 of the points is too close to call.", "1 point gave no verdict: broke off"],
    [2, "2 of the points are too close to call.", "2 points gave no verdict; the first: broke off"],
  ])("%d that tell nothing, or not enough", (count, close, broken) => {
    const points = sweep.points.map((each, k) => ({ ...each, close: k < count }));
    const failed = Array.from({ length: count }, (_, index) => ({
      index,
      kind: "no verdict" as const,
      message: "broke off",
    }));
    const text = renderWhatIf({ ...sweep, points, broken: failed }, 200);
    expect(text).toContain(close);
    expect(text).toContain(broken);
  });
});

describe("as tables", () => {
  const lines = (study: WhatIf) => [...whatIfCsv(study)].join("").split("\r\n");

  test("a sweep has one column of values, a plane two; a value without a unit has none", () => {
    expect(lines(sweep)[0]).toMatch(/^crowbar\.trip voltage \[V\],outcome,too_close,peak_V,/);
    expect(lines(plane)[0]).toMatch(/^crowbar\.trip voltage \[V\],crowbar\.sense filter \[us\],outcome,/);
    expect(lines({ ...sweep, x: { ...TRIP, unit: "" } })[0]).toMatch(/^crowbar\.trip voltage,outcome/);
    expect(lines(plane)[2]).toMatch(/^16,500,"load above its maximum, within what it stands",no,16,,/);
    expect(lines({ ...sweep, points: [point(14, null, SAFE, { close: true })] })[1]).toMatch(
      /^14,"load safe, fuse blown",yes,14,/,
    );
  });

  test("as JSON: the axes that there are", () => {
    expect(whatIfData(sweep).axes.map(({ path }) => path)).toEqual(["crowbar.trip voltage"]);
    expect(whatIfData(plane).axes.map(({ path }) => path)).toEqual(["crowbar.trip voltage", "crowbar.sense filter"]);
  });
});

describe("as figures", () => {
  test.each([
    [50e-6, "time to the trip, µs", 50],
    [5e-3, "time to the trip, ms", 5],
    [5, "time to the trip, s", 5],
  ])("times of %d s in a unit that fits", (trip, title, value) => {
    const points = [point(14, null, SAFE, { trip }), point(16, null, SAFE, { trip: trip / 2 })];
    const curve = sweepData({ ...sweep, points }).curves.find((each) => each.title.startsWith("time to the trip"));
    expect(curve?.title).toBe(title);
    expect(curve?.values[0]).toBeCloseTo(value, 9);
  });

  test("only what varies is drawn, and a nominal value that lies inside is marked", () => {
    const { curves, x } = sweepData(sweep);
    expect(curves.map(({ title }) => title)).toEqual(["peak at the load, V"]);
    expect(x).toMatchObject({ title: "crowbar: trip voltage, V", nominal: 15 });
    expect(sweepData({ ...sweep, x: { ...TRIP, unit: "" } }).x.title).toBe("crowbar: trip voltage");
  });

  test("a plane: squares fill it, those on a boundary in quarters; what lies outside is not marked", () => {
    const { squares, y, facts, kinds } = planeData(plane);
    expect(squares).toHaveLength(3 + 4);
    expect(squares.reduce((sum, { size }) => sum + size * size, 0)).toBeCloseTo(1, 12);
    expect(y).toMatchObject({ title: "crowbar: sense filter, µs", nominal: null, byDecades: true });
    expect(kinds.map(({ share }) => share)).toEqual([0.125, 0.875]);
    expect(facts).toBe("2 simulations");
    expect(planeData({ ...plane, isComplete: false }).facts).toBe(
      "2 simulations; not every boundary is drawn to the finest",
    );
  });

  test("neither takes the other's place", () => {
    expect(() => planeData(sweep)).toThrow("a sweep is no plane");
    expect(() => sweepData(plane)).toThrow("a plane is no sweep");
  });
});
