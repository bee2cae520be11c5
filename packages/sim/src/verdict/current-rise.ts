import type { Crowbar, NodeCapacitor, Scenario } from "../scenario/types.ts";

/** The first microsecond after a firing, in which the conducting spot spreads (common practice, no source). */
const FIRST = 1e-6;
const STEP = 1e-9;

/** What feeds an SCR in its first microsecond. */
export interface Surroundings {
  /** Capacitors at its node; the first is the one that a remedy may make smaller. */
  readonly capacitors: readonly NodeCapacitor[];
  /** Inductances of the leads at its node whose far ends keep their voltage, H. */
  readonly leads: readonly number[];
}

export interface RiseRemedy {
  /** Branch inductance that meets the rating, H; null where none up to 10 µH does. */
  readonly inductance: number | null;
  /** Capacitance of the first capacitor that meets the rating, F; null where even 1 nF does not. */
  readonly capacitance: number | null;
}

/** Surroundings of the line's crowbar: main fuse and series switch count as closed, what they join as one node. */
export function surroundingsOf(scenario: Scenario): Surroundings {
  const { nodes, mainFuse, seriesSwitch, sources, loads } = scenario;
  return {
    capacitors: [
      nodes.protectedSide,
      ...(mainFuse === null ? [] : [nodes.supplySide]),
      ...(seriesSwitch === null ? [] : [nodes.radioSide]),
    ],
    leads: [
      ...sources.map(({ lead }) => lead.inductance),
      ...loads.filter(({ inputCapacitance }) => inputCapacitance > 0).map(({ lead }) => lead.inductance),
    ],
  };
}

/**
 * Largest current within the first microsecond after a firing for each volt above the threshold, A/V.
 * Everything starts at rest at 1 V; the leads add what the sagging node draws from them. Classic Runge–Kutta steps of 1 ns.
 *
 * @param inductance and resistance of the branch, H and ohm
 */
export function firstMicrosecondPeak(
  inductance: number,
  resistance: number,
  { capacitors, leads }: Surroundings,
): number {
  const conductance = capacitors.reduce((sum, { resistance: r }) => sum + 1 / r, 0);
  const leadSlope = leads.reduce((sum, each) => sum + 1 / each, 0);
  // The branch's current, what the leads add, then each capacitor's voltage.
  const slope = (x: Float64Array): Float64Array => {
    const into = capacitors.reduce((sum, { resistance: r }, k) => sum + x[2 + k] / r, x[1] - x[0]);
    const v = into / conductance;
    const dx = new Float64Array(x.length);
    dx[0] = (v - resistance * x[0]) / inductance;
    dx[1] = (1 - v) * leadSlope;
    capacitors.forEach(({ resistance: r, capacitance }, k) => {
      dx[2 + k] = (v - x[2 + k]) / (r * capacitance);
    });
    return dx;
  };
  const ahead = (x: Float64Array, dx: Float64Array, by: number) => x.map((value, k) => value + by * dx[k]);
  let x = Float64Array.from([0, 0, ...capacitors.map(() => 1)]);
  let most = 0;
  for (let step = 0; step < Math.round(FIRST / STEP); step++) {
    const a = slope(x);
    const b = slope(ahead(x, a, STEP / 2));
    const c = slope(ahead(x, b, STEP / 2));
    const d = slope(ahead(x, c, STEP));
    x = x.map((value, k) => value + (STEP / 6) * (a[k] + 2 * b[k] + 2 * c[k] + d[k]));
    most = Math.max(most, x[0]);
  }
  return most;
}

/**
 * The branch inductance, or the smaller capacitance beside the SCR, with which the first microsecond keeps to the rating.
 * What the run found sets the scale, so that what is left out here (resistance of the leads, the junction's slope in time) is in it.
 *
 * @param found and `rating` in A/s
 */
export function riseRemedy(crowbar: Crowbar, around: Surroundings, found: number, rating: number): RiseRemedy {
  const resistance = crowbar.slopeResistance + crowbar.stubResistance;
  const peak = (inductance: number, capacitance: number): number => {
    const [first, ...others] = around.capacitors;
    return firstMicrosecondPeak(inductance, resistance, {
      ...around,
      capacitors: [{ ...first, capacitance }, ...others],
    });
  };
  const [L, C] = [crowbar.inductance, around.capacitors[0].capacitance];
  const allowed = (peak(L, C) * rating) / found;
  return {
    inductance: crossing((inductance) => peak(inductance, C) <= allowed, L, 1e-5),
    capacitance: crossing((capacitance) => peak(L, capacitance) <= allowed, C, 1e-9),
  };
}

/** Where between `from` (not met) and `to` a monotone condition begins to be met, by halving in the logarithm; null if not even at `to`. */
function crossing(met: (value: number) => boolean, from: number, to: number): number | null {
  if (!met(to)) return null;
  let [out, inside] = [Math.log(from), Math.log(to)];
  for (let step = 0; step < 16; step++) {
    const middle = (out + inside) / 2;
    if (met(Math.exp(middle))) inside = middle;
    else out = middle;
  }
  return Math.exp(inside);
}
