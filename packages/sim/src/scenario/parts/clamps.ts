import { assumed, computed, fromMemory, partClass, published } from "./cite.ts";
import type { PartClass } from "./types.ts";

/** A row of a clamp diode's sheet: V, A. */
export interface ClampRow {
  readonly name: string;
  readonly breakdown: { readonly minimum: number; readonly maximum: number };
  /** Largest clamping voltage at the rated peak of a 10/1000 µs and of an 8/20 µs surge. */
  readonly long: { readonly voltage: number; readonly current: number };
  readonly short: { readonly voltage: number; readonly current: number };
}

/** The rows behind the 1500 W classes (SM15T sheet). */
export const CLAMP_ROWS: readonly ClampRow[] = Object.freeze([
  {
    name: "clamp diode 1500 W, 15 V",
    breakdown: { minimum: 14.3, maximum: 15.8 },
    long: { voltage: 21.2, current: 71 },
    short: { voltage: 27.2, current: 368 },
  },
  {
    name: "clamp diode 1500 W, 18 V",
    breakdown: { minimum: 17.1, maximum: 18.9 },
    long: { voltage: 25.2, current: 59.5 },
    short: { voltage: 32.5, current: 308 },
  },
]);

/**
 * Slope resistance in ohm of a clamp's straight line from breakdown to its clamping voltage at a rated peak:
 * V_C(I) = V_BR + (I/I_PP)(V_Cmax − V_BR). Source: SM15T sheet.
 * @example clampSlope(15.8, { voltage: 21.2, current: 71 }) // 0.0761
 */
export function clampSlope(breakdown: number, rated: { readonly voltage: number; readonly current: number }): number {
  return (rated.voltage - breakdown) / rated.current;
}

/** Rated pulse power 10/1000 µs, W, and the time constant of its tail, which halves in 1 ms. */
const PULSE_POWER = 1500;
const TAIL = 1e-3 / Math.LN2;
const CONTINUOUS = 5;
const HOTTEST = 150;
const COOLEST = 25;

function clamp(row: ClampRow): PartClass {
  const { maximum } = row.breakdown;
  const sheet = "SM15T sheet";
  const energy = PULSE_POWER * TAIL;
  const thermalResistance = (HOTTEST - COOLEST) / CONTINUOUS;
  return partClass("clamp", row.name, "clamp diode, 1500 W for 10/1000 µs; a few watts for good", {
    breakdownVoltage: published(maximum, `${sheet}: ${row.breakdown.minimum} to ${maximum} V, the upper end`),
    slopeResistance: computed(
      clampSlope(maximum, row.long),
      `${sheet}: ${row.long.voltage} V at ${row.long.current} A (10/1000 µs)`,
    ),
    thermalResistance: assumed(
      thermalResistance,
      `${CONTINUOUS} W for good from ${COOLEST} to ${HOTTEST} °C, on a small pad`,
    ),
    thermalTimeConstant: computed(
      thermalResistance * (energy / (HOTTEST - COOLEST)),
      `its rated pulse, ${energy.toFixed(1)} J, heats it from ${COOLEST} to ${HOTTEST} °C`,
    ),
    failsShort: published(true, "clamp diodes usually fail short"),
    "ratings.energy": computed(energy, `${PULSE_POWER} W decaying to half in 1 ms`),
    "ratings.peakCurrent": published(row.long.current, `${sheet}, 10/1000 µs`),
    "ratings.temperature": fromMemory(HOTTEST, "usual for the family"),
  });
}

/** Clamp diodes: simulated at the upper end of their breakdown, where the radio sees most. */
export const CLAMPS: readonly PartClass[] = CLAMP_ROWS.map(clamp);
