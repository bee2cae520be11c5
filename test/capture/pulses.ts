import { normals } from "../../packages/sim/scripts/instrument.ts";
import { judgedValues } from "./records.ts";

/** What stands on a level of 13.8 V, V over s since it began; nothing before. Each lasts some 20 to 100 µs. */
export const pulseShapes = {
  "a spike that decays": (t: number) => (t < 0 ? 0 : 2 * Math.exp(-t / 10e-6)),
  "a half sine": (t: number) => (t < 0 || t > 40e-6 ? 0 : 2 * Math.sin((Math.PI * t) / 40e-6)),
  "a triangle": (t: number) => (t < 0 ? 0 : 2 * Math.max(0, 1 - Math.abs(t - 12e-6) / (t < 12e-6 ? 12e-6 : 25e-6))),
  "a ramp that breaks off": (t: number) => (t < 0 || t > 40e-6 ? 0 : (2 * t) / 40e-6),
  "a ringing": (t: number) => (t < 0 ? 0 : 2 * Math.exp(-t / 60e-6) * Math.sin((2 * Math.PI * t) / 40e-6)),
  "a step with overshoot": (t: number) =>
    t < 0 ? -13.8 : -13.8 * Math.exp(-t / 30e-6) * (Math.cos(t / 6e-6) + 0.2 * Math.sin(t / 6e-6)),
} as const;

export type PulseShape = keyof typeof pulseShapes;

const LEVEL = 13.8;

/** Highest value of a shape, V: on a grid of 1 ns, for some have no closed form. */
function truthOf(shape: (t: number) => number): number {
  let top = -Infinity;
  for (let k = 0; k < 100_000; k++) top = Math.max(top, shape(k * 1e-9));
  return LEVEL + top;
}

export interface PulseRecord {
  readonly shape: PulseShape;
  readonly interval: number;
  /** V. */
  readonly sigma: number;
  readonly step: number;
  /** Upside down, for the lowest value. */
  readonly down?: boolean;
}

export interface PulsesFound {
  /** Records in which the truth lies within what is told, and those where the top was seen in one sample, as told. */
  readonly inside: number;
  readonly alone: number;
  /** Told for certain to keep a limit that it passes by 1 % of the pulse, or to pass one that it keeps by as much. */
  readonly wrong: number;
  /** Mean of what is left open, V. */
  readonly width: number;
}

/** How many of so many records hold the truth, each with its samples elsewhere on the pulse. */
export function pulseRecords(seeds: number, { shape, interval, sigma, step, down = false }: PulseRecord): PulsesFound {
  const truth = truthOf(pulseShapes[shape]);
  let [inside, alone, wrong, width] = [0, 0, 0, 0];
  for (let seed = 1; seed <= seeds; seed++) {
    const gauss = normals(seed);
    const begin = interval * (160 + ((seed * 0.618) % 1));
    // Where within a step the top lies differs from record to record.
    const offset = step * ((seed * 0.414) % 1);
    const values = Float64Array.from({ length: 320 }, (_, k) => {
      const value = LEVEL + pulseShapes[shape](k * interval - begin) + sigma * gauss();
      return (down ? -1 : 1) * (offset + step * Math.round((value - offset) / step));
    });
    const against = (limit: number) => judgedValues(values, interval, step, limit);
    const { highest, lowest } = against(100);
    const found = down
      ? { value: -lowest.value, minus: lowest.plus, plus: lowest.minus, alone: lowest.alone }
      : { ...highest };
    if (found.alone) alone++;
    else {
      width += found.minus + found.plus;
      if (truth >= found.value - found.minus && truth <= found.value + found.plus) inside++;
    }
    if (down) continue;
    const [passes, keeps] = [against(truth - 0.02), against(truth + 0.02)];
    if (!passes.passed && !passes.tooClose) wrong++;
    if (keeps.passed && !keeps.tooClose) wrong++;
  }
  return { inside, alone, wrong, width: width / Math.max(1, seeds - alone) };
}
