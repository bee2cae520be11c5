// Colour schemes of the charting library: our figures name each colour.
import { leftOut } from "./left-out.ts";

/** The library's answer where no scheme is asked for. */
export function isCategoricalScheme(scheme: unknown): boolean {
  return scheme == null ? false : leftOut("scheme");
}

export function isDivergingScheme(scheme: unknown): boolean {
  return scheme == null ? false : leftOut("scheme");
}

export const ordinalScheme = (): never => leftOut("ordinalScheme");
export const ordinalRange = (): never => leftOut("ordinalRange");
export const maybeBooleanRange = (): never => leftOut("maybeBooleanRange");
export const quantitativeScheme = (): never => leftOut("quantitativeScheme");
