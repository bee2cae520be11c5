import { neighbours, type SeriesName, seriesValues } from "./e-series.ts";
import type { Gate, ReferenceDevice, ThresholdDevice } from "./thresholds.ts";
import { type Divider, dividerTolerance, dividerTrip, type Temperatures, toleranceAt } from "./tolerance.ts";
import type { DividerPair, Landing, Range, Tolerance, TripSettings } from "./types.ts";

/** The current through the divider may be off by this factor either way, so that the pair may fit better. */
const BIAS_FREEDOM = 1.6;

/** Whether everything a trip point may land on lies within a band. */
export const within = ({ low, high }: Range, band: Range): boolean =>
  low >= band.low - 1e-9 && high <= band.high + 1e-9;

/**
 * The best dividers from one series of standard values.
 *
 * @param wanted trip point, V
 * @param bias current through the lower resistor, A
 * @param most how many
 * @returns the nearest to the wanted trip point first; of those that differ by less than a millivolt, the nearest to the wanted current
 * @example bestDividers(device, "E96", 15, 1e-3, 1) // [{ upper: …, lower: … }]
 */
export function bestDividers(
  device: ReferenceDevice,
  series: SeriesName,
  wanted: number,
  bias: number,
  most: number,
): Divider[] {
  const reference = device.voltage.value;
  const aimed = reference / bias;
  const pairs = seriesValues(series, aimed / BIAS_FREEDOM, aimed * BIAS_FREEDOM).flatMap((lower): Divider[] => {
    const exact = (wanted - reference) / (reference / lower + device.current.value);
    return exact > 0 ? neighbours(series, exact).map((upper) => ({ upper, lower })) : [];
  });
  const miss = (pair: Divider): number => Math.abs(dividerTrip(reference, pair, device.current.value) - wanted);
  const away = ({ lower }: Divider): number => Math.abs(Math.log(lower / aimed));
  const step = (pair: Divider): number => Math.round(miss(pair) * 1e3);
  return pairs.sort((a, b) => step(a) - step(b) || away(a) - away(b) || a.lower - b.lower).slice(0, most);
}

/** Temperatures at which a trip point is told, °C. */
function temperaturesOf({ coldest, hottest }: Temperatures): number[] {
  const inside = [0, 25].filter((temperature) => temperature > coldest && temperature < hottest);
  return [coldest, ...inside, hottest];
}

/** Where a trip point lands from the coldest to the hottest. */
export function landingsOf(range: Temperatures, tolerance: (at: Temperatures) => Tolerance): Landing[] {
  return temperaturesOf(range).map((temperature) => {
    const at = tolerance({ coldest: Math.min(temperature, 25), hottest: Math.max(temperature, 25) });
    return { temperature, low: at.low, nominal: at.nominal, high: at.high, rss: at.rss };
  });
}

/** Dividers of all series for a trip point, each with where it may land. */
export function dividerPairs(
  device: ThresholdDevice,
  wanted: number,
  settings: TripSettings,
  bands: { readonly band: Range; readonly rss: Range },
): DividerPair[] {
  if (device.kind === "zener") return [];
  return (["E24", "E48", "E96"] as const).flatMap((series) =>
    bestDividers(device, series, wanted, settings.bias, 3).map((divider): DividerPair => {
      const tolerance = dividerTolerance(device, divider, settings.resistors, settings);
      return {
        series,
        ...divider,
        bias: device.voltage.value / divider.lower,
        tolerance,
        miss: tolerance.nominal - wanted,
        fits: within(tolerance, bands.band),
        fitsRss: within(tolerance.rss, bands.rss),
        landings: landingsOf(settings, (at) => dividerTolerance(device, divider, settings.resistors, at)),
      };
    }),
  );
}

/**
 * Where the nominal trip point may lie so that everything it may land on is within the band.
 *
 * @returns V; where `low` is above `high` there is no such trip point
 */
export function windowOf(
  device: ThresholdDevice,
  band: Range,
  about: Temperatures & { readonly resistors: string; readonly bias: number; readonly gate: Gate },
  read: (tolerance: Tolerance) => Range,
): Range {
  const at = (trip: number): Range => read(toleranceAt(device, trip, about));
  if (device.kind === "zener") {
    const { nominal } = toleranceAt(device, 0, about);
    const { low, high } = at(nominal);
    return { low: nominal + band.low - low, high: nominal + band.high - high };
  }
  return {
    low: solve((trip) => at(trip).low - band.low, device.voltage.value),
    high: solve((trip) => at(trip).high - band.high, device.voltage.value),
  };
}

/** Root of a rising function above `from`, V. */
function solve(rising: (value: number) => number, from: number): number {
  let [low, high] = [from, 200];
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (rising(middle) < 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
