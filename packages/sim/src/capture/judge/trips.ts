import { isCycling } from "../../trace/cycling.ts";
import { type Curve, unseenTime } from "./curve.ts";
import { commonPeriod } from "./missed-rounds.ts";
import type { Resolution, Trips } from "./types.ts";

/** Shares of the way from the lowest value to the usual one; a trip goes from above the one to below the other. */
const UP = 0.6;
const DOWN = 0.25;
/** A range that is smaller, as a share of the usual level or in values' uncertainties, holds no trip. */
const LEAST_SHARE = 0.3;
const LEAST_UNCERTAINTIES = 10;
/** Where phases of one kind hold fewer samples on average, some may hold none. */
const SEEN = 1.5;
/** Where more of the time than this was not recorded, no share of it is told. */
const MOST_UNSEEN = 0.1;
/** Samples at the beginning that tell the usual level. */
const BEGINNING = 0.01;

/**
 * Trips of a line by what one channel shows: a voltage that collapses, a current that comes. With hysteresis between two levels, so that noise and ringing
 * count nothing twice; a trip begins where the upper level was passed last (a current: the lower one first).
 *
 * @param range lowest and highest value, V or A
 * @returns null where the channel does nothing that could be a trip
 */
export function tripsOf(
  curve: Curve,
  unit: "V" | "A",
  range: { readonly low: number; readonly high: number },
  resolution: Resolution,
): Trips | null {
  const { time, values, timing } = curve;
  const top = unit === "V" ? usualLevel(values, range) : range.high;
  const bottom = Math.min(range.low, top);
  const height = top - bottom;
  // A line that is either up or down may have two values only, a step apart: none is too coarse for that.
  const uncertainty = resolution.quantum === null ? resolution.noise : resolution.ofValue;
  if (!(height > LEAST_SHARE * Math.abs(top)) || height < LEAST_UNCERTAINTIES * uncertainty) return null;
  const up = bottom + UP * height;
  const down = bottom + DOWN * height;
  const times: number[] = [];
  /** Up times are taken at one level, where trips begin. */
  const level = unit === "V" ? up : down;
  let isUp = values[0] >= up;
  let fell = time[0];
  let rose = time[0];
  let sum = 0;
  /** Samples in phases that were seen from end to end, down and up, and how many these were. */
  const seen = [0, 1].map(() => ({ samples: 0, phases: 0 }));
  let since = -1;
  const turn = (i: number): void => {
    if (since >= 0) {
      const phase = seen[isUp ? 1 : 0];
      phase.samples += i - since;
      phase.phases++;
    }
    since = i;
  };
  /** Up time until each trip. */
  const upTimes: number[] = [];
  const trip = (at: number): void => {
    times.push(at);
    upTimes.push(sum);
  };
  for (let i = 1; i < values.length; i++) {
    const v0 = values[i - 1];
    const v1 = values[i];
    if (v0 >= level !== v1 >= level) {
      const at = time[i - 1] + ((level - v0) / (v1 - v0)) * (time[i] - time[i - 1]);
      if (v1 < v0) fell = at;
      else if (!isUp) rose = at;
    }
    if (isUp && v1 < down) {
      turn(i);
      isUp = false;
      sum += fell - rose;
      if (unit === "V") trip(fell);
    } else if (!isUp && v1 >= up) {
      turn(i);
      isUp = true;
      if (unit === "A") trip(rose);
    }
  }
  if (times.length === 0) return null;
  const from = unit === "V" ? up : down;
  const to = unit === "V" ? down : up;
  const head = { times, from, to, cycling: isCycling(times) };
  const first = times[0];
  const span = times[times.length - 1] - first;
  if (times.length < 2) return { ...head, period: null, missed: false, onShare: null };
  const count = times.length - 1;
  // Each end is known to within a sample interval: rectangular, JCGM 100:2008, 4.3.7.
  const ofEnds = (timing / Math.sqrt(12)) * Math.SQRT2;
  const share = (upTimes[count] - upTimes[0]) / span;
  const unseen = unseenTime(curve, first, first + span) / span;
  const mean = {
    value: span / count,
    plusMinus: 2 * Math.hypot(ofEnds / count, spread(times) / Math.sqrt(count)),
    rounds: count,
  };
  const missed = curve.pieces.length > 1 || seen.some(({ samples, phases }) => phases > 0 && samples < SEEN * phases);
  const { rounds, ...period } = (missed ? commonPeriod(times, timing) : null) ?? mean;
  return {
    ...head,
    period,
    missed,
    // Samples may fall alike in every round, so the ends' errors are added, not their squares (5.2.2, note 1).
    onShare: unseen > MOST_UNSEEN ? null : { value: share, plusMinus: (2 * ofEnds * rounds) / span + unseen },
  };
}

/** Standard deviation of the periods: what they scatter by themselves counts as well (JCGM 100:2008, 4.2.3). */
function spread(times: readonly number[]): number {
  const periods = times.slice(1).map((time, index) => time - times[index]);
  if (periods.length < 2) return 0;
  const mean = periods.reduce((sum, each) => sum + each, 0) / periods.length;
  return Math.sqrt(periods.reduce((sum, each) => sum + (each - mean) ** 2, 0) / (periods.length - 1));
}

/** The level at the beginning, where it is one of a line that is on; else the highest. */
function usualLevel(values: Float64Array, { low, high }: { readonly low: number; readonly high: number }): number {
  const count = Math.max(1, Math.min(10_000, Math.floor(BEGINNING * values.length)));
  const beginning = values.slice(0, count).sort();
  const middle = beginning[count >> 1];
  return middle - low > 0.2 * (high - low) ? middle : high;
}
