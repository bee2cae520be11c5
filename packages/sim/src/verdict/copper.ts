import type { LeadFindings } from "../model/result.ts";
import { IEC_60949_COPPER } from "../scenario/conductor.ts";
import { COPPER_HEATING, copperAfter, settledCopper } from "../scenario/copper-heat.ts";
import type { Lead } from "../scenario/types.ts";

/** Overcurrents that are no longer in all than the longest counts as one, but for so much. */
const ONE = 1.001;

/**
 * Temperature in °C that the copper of a lead reached. The run's rise is that of a wire of held resistance. One overcurrent that lasts is translated by the equation of
 * copper over its duration: exact without loss of heat (IEC 60949) and for ever. Of several the smaller of what both these ends give; that neither lies below the truth
 * is not proven.
 */
export function copperReached(found: LeadFindings, lead: Lead, ambient: number): number {
  return copperAt(found, lead, ambient, found.peakRise);
}

/** The same of one rise of the run, at the end of what its overcurrents came to. */
export function copperAt(found: LeadFindings, lead: Lead, ambient: number, rise: number): number {
  const { startRise, overcurrent, overcurrentI2t } = found;
  const settled = settledCopper(ambient, rise);
  const { total: duration, longest } = overcurrent;
  if (!(duration > 0)) return settled;
  const adiabatic = (COPPER_HEATING * overcurrentI2t) / lead.copperArea ** 2;
  // What the overcurrents alone do not explain was there before them.
  const before = Math.min(rise, Math.max(startRise, rise - adiabatic));
  const start = settledCopper(ambient, before);
  if (duration > ONE * longest) {
    const { constant, beta } = IEC_60949_COPPER;
    const atOnce = (start + beta) * Math.exp(overcurrentI2t / (constant * lead.copperArea) ** 2) - beta;
    return Math.min(settled, atOnce);
  }
  const timeConstant = lead.thermalTimeConstant;
  const gone = -Math.expm1(-duration / timeConstant);
  const rest = before + (rise - before) / gone;
  return Math.min(settled, copperAfter({ ambient, rest, timeConstant }, start, duration));
}
