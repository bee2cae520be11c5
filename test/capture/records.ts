import { type ChannelJudgement, judgeCapture } from "@railfault/sim";
import { normals } from "../../packages/sim/scripts/instrument.ts";

/** Judges values as an instrument would hand them over, a sample every `interval`, without the way through a text. */
export function judgedValues(values: Float64Array, interval: number, digit: number, high: number): ChannelJudgement {
  const layout = {
    column: 2,
    name: "line",
    unit: "V",
    attenuation: 1,
    offset: 0,
    inverted: false,
    amperesPerVolt: null,
    deskew: 0,
  };
  const channel = { layout, name: "line", unit: "V" as const, values, gaps: 0, outOfRange: 0, outside: [], digit };
  const written = {
    delimiter: "," as const,
    decimal: "." as const,
    preamble: [],
    headerLine: null,
    unitsLine: null,
    firstLine: 1,
    columns: 2,
    time: null,
    interval,
    channels: [layout],
  };
  const time = Float64Array.from(values, (_, k) => k * interval);
  const capture = { file: "record", layout: written, time, channels: [channel], interval, timeGrain: 0 };
  const [judged] = judgeCapture(capture, { low: null, high }).channels;
  if (judged === undefined) throw new Error("no channel");
  return judged;
}

/** How many of so many flat noisy records hold the truth within ± of their peak, and how many are said to pass or to keep the limit for certain on its wrong side. */
export function flatRecords(
  seeds: number,
  { samples, sigma, step }: { readonly samples: number; readonly sigma: number; readonly step: number },
): { inside: number; wrong: number; width: number } {
  const truth = 15.85;
  let [inside, wrong, width] = [0, 0, 0];
  for (let seed = 1; seed <= seeds; seed++) {
    const gauss = normals(seed);
    // Where within a step the level lies differs from record to record.
    const offset = step * ((seed * 0.618) % 1);
    const values = Float64Array.from(
      { length: samples },
      () => offset + step * Math.round((truth - offset + sigma * gauss()) / step),
    );
    const { highest, passed, tooClose } = judgedValues(values, 1e-6, step, 15.9);
    if (truth >= highest.value - highest.minus && truth <= highest.value + highest.plus) inside++;
    if (passed && !tooClose) wrong++;
    width += (highest.minus + highest.plus) / seeds;
  }
  return { inside, wrong, width };
}

/** Pulses from 13.8 V to `top` for which no sample saw the edges: how often the time above 15.9 V lies within its ±. */
export function pulses(seeds: number, top: number): { inside: number; plusMinus: number } {
  let [inside, plusMinus] = [0, 0];
  for (let seed = 1; seed <= seeds; seed++) {
    const gauss = normals(seed);
    const from = 100 + ((seed * 0.618) % 1);
    const to = 130 + 10 * ((seed * 0.414) % 1);
    const values = Float64Array.from(
      { length: 400 },
      (_, k) => Math.round(1e3 * ((k >= from && k < to ? top : 13.8) + 0.01 * gauss())) / 1e3,
    );
    const { total } = judgedValues(values, 1e-6, 1e-3, 15.9).beyond[0]!;
    if (Math.abs(total.value - (to - from) * 1e-6) <= total.plusMinus) inside++;
    plusMinus += total.plusMinus / seeds;
  }
  return { inside, plusMinus };
}

/** Noisy ramps of `slope`: how many tell a steepest rise, how many of these hold the truth, and how many claim a fall. */
export function ramps(
  seeds: number,
  slope: number,
  sigma: number,
): { told: number; inside: number; falls: number; mean: number } {
  let [told, inside, falls, mean] = [0, 0, 0, 0];
  for (let seed = 1; seed <= seeds; seed++) {
    const gauss = normals(seed);
    const values = Float64Array.from({ length: 20_000 }, (_, k) => 5 + slope * k * 1e-5 + sigma * gauss());
    const { rise, fall } = judgedValues(values, 1e-5, 0, 100);
    if (fall !== null) falls++;
    if (rise === null) continue;
    told++;
    mean += rise.value / seeds;
    if (Math.abs(rise.value - slope) <= rise.plusMinus) inside++;
  }
  return { told, inside, falls, mean };
}

/** A supply that rings up to 12 V: how many of so many noisy records in steps hold the true frequency and decay, and how many tell a ringing at all. */
export function ringings(
  seeds: number,
  shape: {
    readonly frequency: number;
    readonly decay: number;
    readonly interval: number;
    readonly sigma: number;
    readonly step: number;
  },
): { told: number; coarse: number; frequency: number; decay: number; lean: number } {
  const { interval, sigma, step } = shape;
  const gauss = normals(31);
  let [told, coarse, frequency, decay, lean] = [0, 0, 0, 0, 0];
  for (let seed = 0; seed < seeds; seed++) {
    // Where between two samples it begins differs from record to record.
    const begin = 1e-4 + interval * ((seed * 0.618) % 1);
    const values = Float64Array.from({ length: 2000 }, (_, k) => {
      const t = k * interval - begin;
      const swing = t < 0 ? 1 : Math.exp(-t / shape.decay) * Math.cos(2 * Math.PI * shape.frequency * t);
      return step * Math.round((12 - 12 * swing + sigma * gauss()) / step);
    });
    const { ringing } = judgedValues(values, interval, 1e-6, 100);
    if (ringing === null) continue;
    if (ringing.frequency === null || ringing.decay === null) {
      coarse++;
      continue;
    }
    told++;
    lean += (ringing.decay.value - shape.decay) / ringing.decay.plusMinus / seeds;
    if (Math.abs(ringing.frequency.value - shape.frequency) <= ringing.frequency.plusMinus) frequency++;
    if (Math.abs(ringing.decay.value - shape.decay) <= ringing.decay.plusMinus) decay++;
  }
  return { told, coarse, frequency, decay, lean };
}
