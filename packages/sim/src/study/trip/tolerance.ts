import { resistorGrade } from "./resistors.ts";
import {
  GATE_VOLTAGE,
  type Gate,
  gateCurrentFactor,
  type ReferenceDevice,
  type ThresholdDevice,
  type ZenerDevice,
} from "./thresholds.ts";
import type { Contribution, Tolerance } from "./types.ts";

/** Between which temperatures, °C. */
export interface Temperatures {
  readonly coldest: number;
  readonly hottest: number;
}

/** A divider: from the line to the sense input, and from there to ground, ohm. */
export interface Divider {
  readonly upper: number;
  readonly lower: number;
}

const ROOM = 25;

/**
 * Where a divider's trip point lies: V = V_ref·(1 + R1/R2) + I_ref·R1, in V.
 *
 * @param reference V
 * @param current into the reference's input, A
 * @example dividerTrip(2.495, { upper: 10e3, lower: 10e3 }, 2e-6) // 5.01
 */
export function dividerTrip(reference: number, { upper, lower }: Divider, current: number): number {
  return reference * (1 + upper / lower) + current * upper;
}

/** The divider that gives a trip point exactly, at a current through its lower resistor; no standard values. */
export function exactDivider(device: ReferenceDevice, trip: number, bias: number): Divider {
  const lower = device.voltage.value / bias;
  return { lower, upper: (trip - device.voltage.value) / (bias + device.current.value) };
}

/**
 * How far a divider's trip point may lie from its nominal one: worst case with every value at its own end, V_ref(1 ± a)·[1 + R1(1 ± b)/(R2(1 ∓ b))]
 * + I_ref·R1(1 ± b), and the root of the squares.
 *
 * @param device the reference
 * @param divider its two resistors
 * @param grade a name of `resistorGrades`
 * @param range temperatures to cover; drift counts from 25 °C
 * @returns V; rows change one value after the other, so that they add up exactly
 */
export function dividerTolerance(
  device: ReferenceDevice,
  divider: Divider,
  grade: string,
  range: Temperatures,
): Tolerance {
  const { voltage, tolerance, current, currentSpread } = device;
  const resistors = resistorGrade(grade);
  const away = awayFromRoom(range);
  const drift = device.drift(range.coldest, range.hottest);
  const referenceDrift = away === 0 ? 0 : drift.value;
  const drifted = resistors.drift.value * away;
  const initial = voltage.value * tolerance.value;
  const at = (reference: number, off: number, input: number): number =>
    dividerTrip(
      voltage.value + reference,
      { upper: divider.upper * (1 + off), lower: divider.lower * (1 - off) },
      current.value + input,
    );
  const nominal = at(0, 0, 0);
  const kinds = [
    { name: "reference, grade", cited: tolerance, state: [initial, 0, 0] as const },
    { name: "reference, drift", cited: drift, state: [initial + referenceDrift, 0, 0] as const },
    {
      name: "resistors, grade",
      cited: { source: `resistors of ${grade}`, mark: "common practice" as const },
      state: [initial + referenceDrift, resistors.tolerance, 0] as const,
    },
    {
      name: "resistors, drift",
      cited: resistors.drift,
      state: [initial + referenceDrift, resistors.tolerance + drifted, 0] as const,
    },
    {
      name: "reference, input current",
      cited: currentSpread,
      state: [initial + referenceDrift, resistors.tolerance + drifted, currentSpread.value] as const,
    },
  ];
  const side = (sign: 1 | -1): Contribution[] => {
    let before = nominal;
    return kinds.map(({ name, cited, state: [reference, off, input] }) => {
      const now = at(sign * reference, sign * off, sign * input);
      const value = now - before;
      before = now;
      return { name, value, spread: true, source: cited.source, mark: cited.mark };
    });
  };
  const share = divider.upper / (divider.upper + divider.lower);
  const squares = [
    initial / voltage.value,
    referenceDrift / voltage.value,
    Math.SQRT2 * share * resistors.tolerance,
    Math.SQRT2 * share * drifted,
    (currentSpread.value * divider.upper) / nominal,
  ];
  const rss = nominal * Math.hypot(...squares);
  return toleranceOf(nominal, side(-1), side(1), { low: rss, high: rss });
}

/**
 * How far the threshold of a zener into a gate may lie from its nominal one: the diode's own spread and drift, what its slope adds at the
 * trigger current, and the gate's voltage.
 */
export function zenerTolerance(device: ZenerDevice, gate: Gate, { coldest, hottest }: Temperatures): Tolerance {
  const { low, high, resistance, testCurrent, drift } = device;
  const nominal = zenerTrip(device);
  const slope = (current: number): number => resistance.value * (current - testCurrent.value);
  const least = gate.low.value * Math.min(1, gateCurrentFactor(hottest));
  const most = gate.high.value * Math.max(1, gateCurrentFactor(coldest));
  const row = (name: string, value: number, { source, mark }: Pick<Contribution, "source" | "mark">): Contribution => ({
    name,
    value,
    spread: true,
    source,
    mark,
  });
  const cold = Math.max(0, ROOM - coldest);
  const hot = Math.max(0, hottest - ROOM);
  const gateDrift = Math.abs(GATE_VOLTAGE.drift.value);
  const below = [
    row("zener, spread", low.value - device.nominal, low),
    row("zener, drift", -device.nominal * drift.value * cold, drift),
    row("trigger current through the zener", Math.min(0, slope(least)), gate.low),
    row("gate voltage", GATE_VOLTAGE.low.value - GATE_VOLTAGE.usual.value, GATE_VOLTAGE.low),
    row("gate voltage, drift", -gateDrift * hot, GATE_VOLTAGE.drift),
  ];
  const above = [
    row("zener, spread", high.value - device.nominal, high),
    row("zener, drift", device.nominal * drift.value * hot, drift),
    row("trigger current through the zener", Math.max(0, slope(most)), gate.high),
    row("gate voltage", GATE_VOLTAGE.high.value - GATE_VOLTAGE.usual.value, GATE_VOLTAGE.high),
    row("gate voltage, drift", gateDrift * cold, GATE_VOLTAGE.drift),
  ];
  const root = (rows: readonly Contribution[]): number => Math.hypot(...rows.map(({ value }) => value));
  return toleranceOf(nominal, below, above, { low: root(below), high: root(above) });
}

/** The one nominal trip point of a zener into a gate, V. */
export const zenerTrip = ({ nominal }: ZenerDevice): number => nominal + GATE_VOLTAGE.usual.value;

/** How far a threshold device's trip point may lie from a nominal one; a zener has but one nominal trip point, whatever is asked. */
export function toleranceAt(
  device: ThresholdDevice,
  trip: number,
  about: Temperatures & { readonly resistors: string; readonly bias: number; readonly gate: Gate },
): Tolerance {
  if (device.kind === "zener") return zenerTolerance(device, about.gate, about);
  return dividerTolerance(device, exactDivider(device, trip, about.bias), about.resistors, about);
}

/** Kelvins between 25 °C and the farther end. */
function awayFromRoom({ coldest, hottest }: Temperatures): number {
  return Math.max(0, ROOM - coldest, hottest - ROOM);
}

function toleranceOf(
  nominal: number,
  below: readonly Contribution[],
  above: readonly Contribution[],
  rss: { readonly low: number; readonly high: number },
): Tolerance {
  const sum = (rows: readonly Contribution[]): number => rows.reduce((total, { value }) => total + value, 0);
  return {
    nominal,
    low: nominal + sum(below),
    high: nominal + sum(above),
    rss: { low: nominal - rss.low, high: nominal + rss.high },
    below,
    above,
  };
}
