import type { PlaneAxis, PlaneData, PlaneKind, PlaneTone, SweepData } from "../../report/figure/plane-types.ts";
import { RUN_FIGURES } from "../pool/figures.ts";
import { OUTCOMES, type Outcome } from "../pool/outcome.ts";
import type { Axis } from "./axis.ts";
import { type Cell, PLANE } from "./plane.ts";
import { sharesOf, whatIfHeadline } from "./report.ts";
import type { WhatIf } from "./study.ts";

const TONES: Readonly<Record<Outcome, PlaneTone>> = {
  "cannot be run": "impossible",
  "no verdict": "unknown",
  "load beyond what it stands": "endangered",
  "load above its maximum, within what it stands": "withstood",
  "load safe, SCR beyond its rating": "scr",
  "load safe, something else beyond its rating": "damage",
  "load safe, tripping again and again": "tripping",
  "load safe, SCR kept on": "held",
  "load safe, fuse blown": "blown",
  "load safe, switched off": "off",
  "load safe, tripped and over": "over",
  "load safe, nothing acted": "quiet",
};

/** What the figure of a plane draws. @throws RangeError for a sweep */
export function planeData(study: WhatIf): PlaneData {
  const { x, y, cells } = study;
  if (y === null) throw new RangeError("a sweep is no plane");
  const { kinds, placeOf } = kindsOf(study);
  return {
    ...headOf(study),
    x: axisOf(x),
    y: axisOf(y),
    kinds,
    squares: cells.flatMap(squaresOf).map(({ kind, ...square }) => ({ ...square, kind: placeOf(kind) })),
  };
}

/** What the figure of a sweep draws: of all figures those that vary, at most six. @throws RangeError for a plane */
export function sweepData(study: WhatIf): SweepData {
  const { x, y, points } = study;
  if (y !== null) throw new RangeError("a plane is no sweep");
  const { kinds, placeOf } = kindsOf(study);
  const curves = RUN_FIGURES.map(({ label, dimension }, k) => {
    const values = points.map(({ figures }) => (Number.isFinite(figures[k]) ? figures[k] : null));
    const [factor, unit] = scaleFor(dimension, values);
    return {
      title: `${label}${unit === "" ? "" : `, ${unit}`}`,
      values: values.map((v) => (v === null ? null : v * factor)),
    };
  });
  const varies = curves.filter(({ values }) => new Set(values.filter((value) => value !== null)).size > 1);
  return {
    ...headOf(study),
    x: axisOf(x),
    kinds,
    points: points.map((point) => ({ x: point.x, kind: placeOf(OUTCOMES.indexOf(point.outcome)) })),
    curves: varies.slice(0, 6),
  };
}

function headOf(study: WhatIf) {
  const { points, isComplete, title } = study;
  const coarse = isComplete ? "" : "; not every boundary is drawn to the finest";
  return {
    title: `What if: ${title}`,
    subtitle: whatIfHeadline(study),
    facts: `${points.length} simulations${coarse}`,
  };
}

function kindsOf(study: WhatIf): { kinds: readonly PlaneKind[]; placeOf: (outcome: number) => number } {
  const shares = sharesOf(study);
  return {
    kinds: shares.map(({ outcome, share }) => ({ label: outcome, tone: TONES[outcome], share })),
    placeOf: (outcome) => shares.findIndex((each) => each.outcome === OUTCOMES[outcome]),
  };
}

function axisOf({ label, unit, low, high, nominal, byDecades }: Axis): PlaneAxis {
  const inside = nominal >= low && nominal <= high;
  const title = unit === "" ? label : `${label}, ${unit.replace(/^u(?=[a-zA-Z])/, "µ")}`;
  return { title, from: low, to: high, byDecades, nominal: inside ? nominal : null };
}

/** A cell of one kind is one square; one that a boundary passes through takes each corner's kind up to the middle. */
function squaresOf({ i, j, size, corners }: Cell): PlaneData["squares"][number][] {
  const square = (x: number, y: number, side: number, kind: number) => ({
    x: x / PLANE,
    y: y / PLANE,
    size: side / PLANE,
    kind,
  });
  if (new Set(corners).size === 1) return [square(i, j, size, corners[0])];
  const half = size / 2;
  return corners.map((kind, k) => square(i + (k % 2) * half, j + Math.floor(k / 2) * half, half, kind));
}

function scaleFor(
  dimension: (typeof RUN_FIGURES)[number]["dimension"],
  values: readonly (number | null)[],
): readonly [number, string] {
  const most = values.reduce<number>((largest, value) => Math.max(largest, Math.abs(value ?? 0)), 0);
  if (dimension === "time") return most < 1e-3 ? [1e6, "µs"] : most < 1 ? [1e3, "ms"] : [1, "s"];
  if (dimension === "ratio") return [100, "%"];
  const units: Partial<Record<typeof dimension, string>> = {
    voltage: "V",
    current: "A",
    temperature: "°C",
    I2t: "A²s",
  };
  return [1, units[dimension] ?? ""];
}
