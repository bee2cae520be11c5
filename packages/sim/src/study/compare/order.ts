import type { CompareRow, JudgedRow } from "./types.ts";

const GRADES = ["inside", "withstood", "beyond"] as const;
const HAZARDS = ["none", "heats up", "beyond rating", "fire"] as const;
const RETURNS = ["never off", "alone", "after a reset", "not told", "after a repair"] as const;
/** Peaks that differ by less are the same, V. */
export const SAME_VOLTAGE = 0.05;
/** Checking a part costs less than replacing it. */
const CHECK = 0.5;

/**
 * Puts the lines of a comparison in the order of what matters, the best first: whether the load is inside its window, withstood it or is
 * endangered (too close to call counts half a step worse); then hazards (none, a held SCR that heats up, parts beyond their ratings, fire); then what must be replaced (nothing, a
 * fuse, a protector, a lead, and how many of them); then whether the load comes back alone, after a reset or after a repair; then how often it
 * trips; then the peak at the load (rows that follow each other closely count as one); then the loss in normal service. Lines without a verdict stand last. What is equal in
 * all that keeps its order.
 *
 * @example inOrder(rows)[0].name // what to look at first
 */
export function inOrder(rows: readonly CompareRow[]): readonly CompareRow[] {
  const steps = peakSteps(rows);
  return rows
    .map((row) => ({ row, key: keyOf(row, steps) }))
    .sort((a, b) => difference(a.key, b.key))
    .map(({ row }) => row);
}

function difference(a: readonly number[], b: readonly number[]): number {
  const at = a.findIndex((value, k) => value !== b[k]);
  return at < 0 ? 0 : a[at] - b[at];
}

/** Peaks that are higher than the next lower one by what somebody would notice; what lies between two counts as one. A fixed grid would part what lies on its lines. */
function peakSteps(rows: readonly CompareRow[]): readonly number[] {
  const peaks = rows.flatMap((row) => (row.kind === "judged" ? [row.peak.value] : [])).sort((a, b) => a - b);
  return peaks.filter((peak, k) => k > 0 && peak - peaks[k - 1] >= SAME_VOLTAGE);
}

function keyOf(row: CompareRow, steps: readonly number[]): readonly number[] {
  if (row.kind === "no verdict") return [GRADES.length];
  const { grade, tooClose, hazard, comesBack, tripping, peak } = row;
  return [
    GRADES.indexOf(grade) + (tooClose ? 0.5 : 0),
    HAZARDS.indexOf(hazard),
    ...costOf(row),
    RETURNS.indexOf(comesBack),
    tripping?.goesOn === true ? tripping.count : 0,
    steps.filter((step) => step <= peak.value).length,
    lossOf(row),
  ];
}

function costOf({ replaced }: JudgedRow): readonly [dearest: number, count: number] {
  const costs = replaced.map(({ weight, step }) => (step === "replace" ? weight : CHECK * weight));
  return [Math.max(0, ...costs), costs.length];
}

function lossOf({ service }: JudgedRow): number {
  const point = service?.transmit?.kind === "found" ? service.transmit : service?.receive;
  return point?.kind === "found" ? point.loss : 0;
}
