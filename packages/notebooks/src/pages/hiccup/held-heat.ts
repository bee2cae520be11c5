import { type Crowbar, formatQuantity, type Run } from "@railfault/sim";
import { type Bar, barsOf, recorded } from "./bars.ts";
import { roughTime } from "./words.ts";

/** Where an SCR is heading whose gate is kept on while its supply tries again and again. Temperatures in °C, times in s after the fault. */
export interface HeldHeat {
  /** Peaks of the junction an hour after the fault. */
  readonly afterAnHour: number;
  readonly limit: number;
  /** When its peaks pass the limit; null: never. */
  readonly passes: number | null;
}

const HOUR = 3600;
/** From so many restarts on a round is known. */
const LEAST = 3;

/**
 * The mean power of the last full rounds held for ever: the junction's own stages are taken as settled, so only case and heat sink still
 * warm up; the swing within a round is added. Null where no fired SCR outlasts the rounds of its supply.
 */
export function heldHeat(run: Run): HeldHeat | null {
  const bar = barsOf(run).find(({ found }) => found.conductingAtEnd && !found.failedShort && found.cycling === null);
  // A gate that is kept on says nothing of a current: a fuse that has opened has ended it.
  if (run.fuses.some(({ openTime }) => openTime !== null)) return null;
  const rounds = run.events.filter(({ kind }) => kind === "restarts").map(({ time }) => time);
  if (bar?.spec == null || rounds.length < LEAST) return null;
  const { spec } = bar;
  const from = rounds[Math.floor(rounds.length / 2)];
  const to = rounds[rounds.length - 1];
  const power = mean(run, bar, "A", from, to, (amps) => dissipated(spec, amps));
  const warm = mean(run, bar, "junction_degC", from, to, (celsius) => celsius);
  const peak = meanPeak(run, bar, rounds.slice(Math.floor(rounds.length / 2)));
  if (power === null || warm === null || peak === null || !(to > from)) return null;
  const { ambient, faultTime } = run.scenario;
  const settled = ambient + power * spec.junctionStages.reduce((sum, { resistance }) => sum + resistance, 0);
  const swing = peak - warm;
  const tau = spec.caseToAmbient * spec.caseHeatCapacity;
  const rest = power * spec.caseToAmbient;
  const now = Math.max(0, warm - settled);
  const middle = (from + to) / 2 - faultTime;
  const limit = spec.ratings.junctionTemperature;
  const peaksAt = (time: number): number => settled + swing + rest + (now - rest) * Math.exp(-(time - middle) / tau);
  const allowed = limit - settled - swing;
  const passes =
    peak >= limit ? middle : rest <= allowed ? null : middle + tau * Math.log((rest - now) / (rest - allowed));
  return { afterAnHour: peaksAt(HOUR), limit, passes };
}

const dissipated = ({ thresholdVoltage, slopeResistance }: Crowbar, amps: number): number =>
  amps > 0 ? (thresholdVoltage + slopeResistance * amps) * amps : 0;

/** Mean over time of what is made of a recorded value; straight lines between the rows. */
function mean(
  run: Run,
  bar: Bar,
  what: "A" | "junction_degC",
  from: number,
  to: number,
  of: (value: number) => number,
): number | null {
  const values = recorded(run, bar, what);
  if (values === null) return null;
  const { time } = run.trace;
  let sum = 0;
  for (let i = 1; i < time.length; i++) {
    if (time[i - 1] < from || time[i] > to) continue;
    sum += ((of(values[i - 1]) + of(values[i])) / 2) * (time[i] - time[i - 1]);
  }
  return sum / (to - from);
}

/** The largest temperature of each round, on average: a junction that still warms up has its largest at the end. */
function meanPeak(run: Run, bar: Bar, bounds: readonly number[]): number | null {
  const values = recorded(run, bar, "junction_degC");
  if (values === null) return null;
  const { time } = run.trace;
  const peaks = bounds.slice(1).map(() => Number.NEGATIVE_INFINITY);
  let round = 0;
  for (let i = 0; i < time.length; i++) {
    while (round < peaks.length && time[i] > bounds[round + 1]) round++;
    if (round < peaks.length && time[i] >= bounds[0]) peaks[round] = Math.max(peaks[round], values[i]);
  }
  const known = peaks.filter(Number.isFinite);
  return known.length === 0 ? null : known.reduce((sum, peak) => sum + peak, 0) / known.length;
}

/** The estimate in words, with how it is marked; null where there is nothing to estimate. */
export function heldHeatTold(
  run: Run,
): { readonly tag: string; readonly tone: string; readonly sentence: string } | null {
  const heat = heldHeat(run);
  if (heat === null) return null;
  const celsius = (value: number): string => formatQuantity(value, "temperature");
  const limit = celsius(heat.limit);
  if (heat.passes === null)
    return {
      tag: "Stays below its limit",
      tone: "safe",
      sentence: `Estimate: the SCR peaks at ${celsius(heat.afterAnHour)} an hour after the fault, its limit is ${limit}.`,
    };
  const after = roughTime(heat.passes);
  return {
    tag: `Too hot after ${after}`,
    tone: "endangered",
    sentence: `Estimate: the SCR passes its limit of ${limit} about ${after} after the fault, if the supply goes on like this.`,
  };
}
