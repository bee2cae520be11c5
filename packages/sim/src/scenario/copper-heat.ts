import { COPPER_MELTING, IEC_60949_COPPER } from "./conductor.ts";
import type { Lead } from "./types.ts";

/** Resistivity of copper over its density and specific heat, K·m⁴/(A²·s): a wire heats by this times (i/A)² while its resistance is held. */
export const COPPER_HEATING = 5.0e-15;

const { constant, beta } = IEC_60949_COPPER;
/** Between heating at a held resistance and that of IEC 60949, whose resistance goes with (temperature + β): K. */
const SCALE = COPPER_HEATING * constant ** 2;

/**
 * Temperature in °C that copper settles at where a wire of held resistance settles so many K above ambient: warm copper has more resistance, and
 * heats itself the more for it. Infinite where nothing ends that.
 *
 * @param rise of the wire of held resistance, K
 * @example settledCopper(25, 0) // 25
 */
export function settledCopper(ambient: number, rise: number): number {
  return rise < SCALE ? ambient + ((ambient + beta) * rise) / (SCALE - rise) : Number.POSITIVE_INFINITY;
}

/**
 * Temperature in °C that the copper of a lead settles at while it carries a current for good; at most where copper melts, beyond which a number says
 * nothing more.
 *
 * @param area of one conductor, m², in place of the lead's own
 */
export function settledTemperature(lead: Lead, current: number, ambient: number, area = lead.copperArea): number {
  const rise = (COPPER_HEATING * current ** 2 * lead.thermalTimeConstant) / area ** 2;
  return Math.min(settledCopper(ambient, rise), COPPER_MELTING);
}

/** Rise in K of a wire of held resistance at which real copper settles at a temperature: the inverse of `settledCopper`. */
export function heldRise(ambient: number, temperature: number): number {
  return (SCALE * (temperature - ambient)) / (temperature + beta);
}

/**
 * Rise in K that a wire of held resistance has when real copper, heated from ambient without loss, comes to a temperature: IEC 60949's ln((θ + β)/(θ₀ + β)), read
 * the other way round. For times well below a wire's time constant.
 *
 * @param ambient of both wires at the beginning, °C
 * @param temperature of real copper, °C
 * @returns K, positive where the temperature is above ambient
 *
 * @example heldRiseAtOnce(25, 25) // 0
 */
export function heldRiseAtOnce(ambient: number, temperature: number): number {
  return SCALE * Math.log((temperature + beta) / (ambient + beta));
}

/** What heats a wire: the rise of a wire of held resistance in the end (K), and how fast it gets there (s). */
export interface CopperHeating {
  readonly ambient: number;
  readonly rest: number;
  readonly timeConstant: number;
}

/**
 * Temperature in °C of copper after `time` seconds of a current that lasts: θ' = (θ + β)·rest/(SCALE·τ) − (θ − ambient)/τ. Without the second part that is
 * IEC 60949's adiabatic form, for ever it is `settledCopper`.
 */
export function copperAfter({ ambient, rest, timeConstant }: CopperHeating, from: number, time: number): number {
  const { gain, drive } = lawOf({ ambient, rest, timeConstant });
  const grown = Math.expm1(gain * time);
  const growth = gain === 0 ? time : grown / gain;
  return ambient + (from - ambient) * (1 + grown) + drive * growth;
}

/** After how many seconds such a current brings copper to a temperature; 0: it is there already; null: never. */
export function timeToCopper(heating: CopperHeating, from: number, limit: number): number | null {
  if (from >= limit) return 0;
  const { ambient } = heating;
  const { gain, drive } = lawOf(heating);
  const speed = drive + gain * (from - ambient);
  if (speed <= 0 || settledCopper(ambient, heating.rest) <= limit) return null;
  const share = (gain * (limit - from)) / speed;
  return share === 0 ? (limit - from) / speed : Math.log1p(share) / gain;
}

/** Of the rise above ambient D: D' = gain·D + drive. */
function lawOf({ ambient, rest, timeConstant }: CopperHeating): { readonly gain: number; readonly drive: number } {
  const heat = rest / (SCALE * timeConstant);
  return { gain: heat - 1 / timeConstant, drive: heat * (ambient + beta) };
}
