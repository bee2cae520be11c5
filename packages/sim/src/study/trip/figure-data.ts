import type { TripData, TripSide } from "../../report/figure/trip-types.ts";
import { formatQuantity } from "../../units/index.ts";
import type { Edge, Tolerance, TripStudy } from "./types.ts";
import { degrees } from "./words.ts";

/**
 * What `tripFigure` draws of a study.
 *
 * @param study of `tripStudy`
 * @param picked a divider of `study.dividers` to be drawn beside the trip point; left out: the best one that is offered, if any
 */
export function tripData(study: TripStudy, picked = study.dividers.findIndex(({ fits }) => fits)): TripData {
  const { title, headline, bottom, top, rules, band, bandRss, window, trip, fits, written, settings, exists } = study;
  const pair = study.dividers.at(Math.max(picked, 0));
  const isZener = settings.threshold.startsWith("zener");
  const name = isZener
    ? settings.threshold
    : settings.wanted !== null
      ? "as wanted"
      : exists
        ? "in the middle"
        : "least wrong";
  const point = (label: string, tolerance: Tolerance, isRight: boolean) => ({
    label,
    nominal: tolerance.nominal,
    low: tolerance.low,
    high: tolerance.high,
    rss: tolerance.rss,
    fits: isRight,
  });
  return {
    title: title === "" ? "Where to set the trip" : `Where to set the trip: ${title}`,
    subtitle: headline,
    facts: `${settings.threshold}${isZener ? "" : `, resistors of ${settings.resistors}`}, ${degrees(settings.coldest)} to ${degrees(settings.hottest)}; worst case`,
    below: side("Normal service, from below", "never trips falsely from", bottom),
    above: side(
      "The load’s limit, from above",
      rules === "fast" ? "stops the line’s fault up to" : "stops a creeping voltage up to",
      top,
    ),
    band,
    bandRss,
    window,
    points: [
      point(name, trip, fits),
      ...(pair === undefined
        ? []
        : [point(`${ohms(pair.upper)} over ${ohms(pair.lower)}, ${pair.series}`, pair.tolerance, pair.fits)]),
      ...(isZener ? [] : [point("as in the line’s file", written, written.fits)]),
    ],
  };
}

const ohms = (value: number): string => formatQuantity(value, "resistance");

const side = (title: string, edge: string, { rows }: Edge): TripSide => ({
  title,
  edge,
  shares: rows.map(({ name, value, spread }) => ({ name, value, spread })),
});
