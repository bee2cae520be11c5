/** Adiabatic heating I²t = (constant·area)²·ln((to + beta)/(from + beta)): A·s^½/m² and °C. */
export interface AdiabaticLaw {
  readonly constant: number;
  readonly beta: number;
  readonly source: string;
}

/** m² of a circular mil: a circle of 0.001 inch. */
export const CIRCULAR_MIL = (Math.PI / 4) * 25.4e-6 ** 2;

/** Copper by IEC 60949: K = 226 A·s^½/mm², β = 234.5 °C. This is the one that the verdict uses. */
export const IEC_60949_COPPER: AdiabaticLaw = Object.freeze({ constant: 226e6, beta: 234.5, source: "IEC 60949" });
/** Copper by Onderdonk: 33·(I/A)²·t = log10((T_m − T_a)/(234 + T_a) + 1), A in circular mils. A second opinion. */
export const ONDERDONK_COPPER: AdiabaticLaw = Object.freeze({
  constant: 1 / (Math.sqrt(33 * Math.LN10) * CIRCULAR_MIL),
  beta: 234,
  source: "Onderdonk's equation",
});
/** Copper by the cable engineers' form: (I/A)²·t = 0.0297·log10((T₂ + 234)/(T₁ + 234)), A in circular mils. A second opinion. */
export const ICEA_COPPER: AdiabaticLaw = Object.freeze({
  constant: Math.sqrt(0.0297 / Math.LN10) / CIRCULAR_MIL,
  beta: 234,
  source: "ICEA short-circuit form",
});
/** Copper from its material constants: density 8960 kg/m³, 385 J/(kg·K), 17.241 nohm·m and 0.00393 /K at 20 °C. A second opinion. */
export const MATERIAL_COPPER: AdiabaticLaw = Object.freeze({
  constant: Math.sqrt((8960 * 385) / (17.241e-9 * 0.00393)),
  beta: 1 / 0.00393 - 20,
  source: "density times heat capacity over resistivity, integrated",
});

/** Melting point of copper, °C. */
export const COPPER_MELTING = 1084.6;

/**
 * I²t in A²s that heats a conductor from one temperature to another without losing heat.
 *
 * The verdict uses it with IEC 60949 up to the insulation's short-circuit limit (160 °C for PVC): a lead whose I²t
 * reaches it needs replacing. For copper IEC 60949, Onderdonk and the material constants agree within 1 %; the cable
 * engineers' form lies 1.5 % lower.
 *
 * @param area cross-section of one conductor, m²
 * @param from temperature at the start, °C
 * @param to temperature at the end, °C
 * @param law constant and β; copper by IEC 60949 if left out
 * @throws RangeError when the area is not positive, or `to` is below `from`, or `from` is not above −β
 * @example adiabaticI2t(2.5e-6, 25, 160) // 1.34e5
 */
export function adiabaticI2t(area: number, from: number, to: number, law: AdiabaticLaw = IEC_60949_COPPER): number {
  if (!(area > 0)) throw new RangeError(`conductor area must be positive, got ${area}`);
  if (!(from > -law.beta)) throw new RangeError(`start temperature must lie above ${-law.beta} °C, got ${from}`);
  if (!(to >= from)) throw new RangeError(`end temperature must not lie below the start of ${from} °C, got ${to}`);
  return (law.constant * area) ** 2 * Math.log((to + law.beta) / (from + law.beta));
}

/** Preece's constants, A/inch^1.5: a published table. */
const PREECE = Object.freeze({ copper: 10244, aluminium: 7585, iron: 3148, tin: 1642, lead: 1379 });
const INCH = 25.4e-3;

/**
 * Current in A that melts a bare round wire in still air in the end, by Preece: I = C·d^1.5, d in inches.
 *
 * The verdict uses it for bare copper, and only as an order of magnitude: length, air and ends move it by tens of percent.
 *
 * @param area cross-section, m²
 * @param metal copper if left out
 * @throws RangeError when the area is not positive
 * @example fusingCurrent(gaugeArea(12)) // about 235 A
 */
export function fusingCurrent(area: number, metal: keyof typeof PREECE = "copper"): number {
  if (!(area > 0)) throw new RangeError(`conductor area must be positive, got ${area}`);
  const diameter = 2 * Math.sqrt(area / Math.PI);
  return PREECE[metal] * (diameter / INCH) ** 1.5;
}
