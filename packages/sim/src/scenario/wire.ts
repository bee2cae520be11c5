import type { Cited } from "./parts/types.ts";

/** Resistivity of annealed copper at 20 °C, ohm·m: IEC 60028, 1/58 ohm·mm²/m. */
const COPPER_RESISTIVITY = 1 / 58e6;
/** Temperature coefficient of its resistance at 20 °C, 1/K: IEC 60028. */
const COPPER_TEMPERATURE_COEFFICIENT = 0.00393;
/** Resistance of one pair of contacts (a plug and its socket, go or return), ohm. */
export const CONTACT_RESISTANCE: Cited<number> = Object.freeze({
  value: 1e-3,
  source: "0.5 to 1 mohm per pair of contacts; the upper end",
  mark: "common practice",
});
/** Insulation wall of a low-voltage single conductor, m: two such walls set the spacing of a pair lying side by side. */
export const INSULATION_WALL: Cited<number> = Object.freeze({
  value: 0.725e-3,
  source: "two wires side by side: the copper's diameter and two walls of insulation of 0.725 mm each",
  mark: "assumed",
});

const VACUUM_PERMEABILITY = 4e-7 * Math.PI;
const INTERNAL_INDUCTANCE = 1e-7;

/**
 * Cross-section of a solid round conductor of a wire gauge, m².
 * Source: ASTM B258, d = 0.127·92^((36 − n)/39) mm; 1/0, 2/0, 3/0, 4/0 are n = 0, −1, −2, −3.
 * @param gauge 40 … 0 as a number or a text, or "1/0" … "4/0"
 * @throws RangeError for anything else
 * @example gaugeArea(12) // 3.309e-6
 */
export function gaugeArea(gauge: number | string): number {
  const zeros = /^([1-4])\/0$/.exec(String(gauge).trim());
  const number = zeros === null ? Number(String(gauge).trim() || Number.NaN) : 1 - Number(zeros[1]);
  if (!Number.isInteger(number) || number < -3 || number > 40) {
    throw new RangeError(`wire gauge must be a whole number from 40 to 0 or 1/0 … 4/0, got ${gauge}`);
  }
  const diameter = 0.127e-3 * 92 ** ((36 - number) / 39);
  return (Math.PI / 4) * diameter ** 2;
}

/** Diameter in m of a solid round conductor of a cross-section in m². */
export function solidDiameter(area: number): number {
  return 2 * Math.sqrt(positive("conductor area", area) / Math.PI);
}

/**
 * Resistance of a copper pair, both conductors, without contacts, ohm.
 * @param length one way, m
 * @param area copper of one conductor, m²
 * @param temperature of the copper, °C; 20 if left out
 * @throws RangeError when length or area is not positive
 * Source: IEC 60028.
 * @example wireResistance({ length: 1, area: 2.5e-6 }) // 0.01379
 */
export function wireResistance(wire: {
  readonly length: number;
  readonly area: number;
  readonly temperature?: number;
}): number {
  const { length, area, temperature = 20 } = wire;
  const cold = (2 * COPPER_RESISTIVITY * positive("wire length", length)) / positive("conductor area", area);
  return cold * (1 + COPPER_TEMPERATURE_COEFFICIENT * (temperature - 20));
}

/**
 * Inductance of a go-and-return pair at DC, H: length·((μ0/π)·acosh(D/d) + 0.1 µH/m of the conductors' inside).
 * @param length one way, m
 * @param area copper of one conductor, m²
 * @param spacing between the conductors' centres, m; left out: side by side, one insulation wall each
 * @throws RangeError when a figure is not positive or the conductors would overlap
 * @example pairInductance({ length: 1, area: gaugeArea(12), spacing: 3.5e-3 }) // 0.55e-6
 */
export function pairInductance(pair: {
  readonly length: number;
  readonly area: number;
  readonly spacing?: number;
}): number {
  const diameter = solidDiameter(pair.area);
  const spacing = positive("spacing", pair.spacing ?? diameter + 2 * INSULATION_WALL.value);
  if (spacing < diameter) {
    throw new RangeError(
      `spacing is measured between centres and cannot be below the conductor's diameter of ${(diameter * 1e3).toFixed(2)} mm, ` +
        `got ${(spacing * 1e3).toFixed(2)} mm`,
    );
  }
  const external = (VACUUM_PERMEABILITY / Math.PI) * Math.acosh(spacing / diameter);
  return positive("wire length", pair.length) * (external + INTERNAL_INDUCTANCE);
}

/** The same value. @throws RangeError where it is not positive and finite; it says which one by `what`. */
export function positive(what: string, value: number): number {
  if (!(value > 0 && Number.isFinite(value))) throw new RangeError(`${what} must be a positive number, got ${value}`);
  return value;
}
