import { capital, formatQuantity } from "../../units/index.ts";
import type { Contribution, Range, TripStudy } from "./types.ts";

export const volts = (value: number): string => `${value.toFixed(2)} V`;
export const between = ({ low, high }: Range): string => `${volts(low)} to ${volts(high)}`;

type Half = Omit<TripStudy, "headline" | "reasons">;

/** The answer in one sentence. */
export function headlineOf(half: Half, triedChanges: boolean): string {
  const { exists, existsRss, window, windowRss, trip, fits, settings, changes, band } = half;
  const isZener = settings.threshold.startsWith("zener");
  if (exists && isZener)
    return `A ${settings.threshold} into the gate trips at ${between(trip)}, inside the band of ${between(band)}.`;
  if (exists) {
    const asked = settings.wanted !== null && !fits ? ` The ${volts(settings.wanted)} asked for may land outside.` : "";
    const middle =
      settings.wanted === null ? ` Its middle, ${volts(trip.nominal)}, leaves most room on both sides.` : "";
    return `Set the trip point between ${volts(window.low)} and ${volts(window.high)}.${middle}${asked}`;
  }
  const cheapest = changes.find(({ opens }) => opens);
  const way =
    cheapest === undefined
      ? triedChanges
        ? " No change that was tried opens one."
        : ""
      : ` The cheapest change that opens one: ${cheapest.name}.`;
  const likely =
    existsRss && !isZener
      ? ` By root-sum-square, where not everything is at its worst at once, ${between(windowRss)} would do.`
      : "";
  return `No trip point is right in the worst case.${way}${likely}`;
}

/** Why there is no band: first what is missing, then the largest shares. */
export function reasonsOf({ band, bottom, top, trip }: Half): string[] {
  const room = band.high - band.low;
  const needs = trip.high - trip.low;
  const first =
    room < 0
      ? `In normal service the protector sees up to ${volts(band.low)}, but above ${volts(band.high)} it acts too late for the load: ${volts(-room)} are missing before any tolerance.`
      : `Between normal service (${volts(band.low)}) and the last moment for the load (${volts(band.high)}) lie ${volts(room)}; this threshold device needs ${volts(needs)} for itself.`;
  const shares = [
    ...takes(bottom.rows, "lifts the lower edge by", 1),
    ...takes(top.rows, "lowers the upper edge by", -1),
    ...takes(trip.below, "of tolerance below: needs", -1),
    ...takes(trip.above, "of tolerance above: needs", 1),
  ].sort((a, b) => b.size - a.size);
  return [first, ...shares.slice(0, 4).map(({ sentence }) => sentence)];
}

function takes(rows: readonly Contribution[], verb: string, sign: 1 | -1): { size: number; sentence: string }[] {
  return rows
    .filter(({ name, value }) => value * sign > 0.005 && !/^(?:set voltage|limit|charge voltage)/.test(name))
    .map(({ name, value }) => {
      const size = Math.abs(value);
      const amount = formatQuantity(size, "voltage");
      const of = /^of tolerance (below|above)/.exec(verb);
      const what = capital(name);
      return {
        size,
        sentence: of === null ? `${what}: ${verb} ${amount}.` : `${what}: ${amount} of tolerance ${of[1]}.`,
      };
    });
}

/** With the sign proper: this is read, never parsed. */
export const degrees = (value: number): string => formatQuantity(value, "temperature").replace(/^-/, "−");
