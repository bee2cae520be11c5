import type { Slope } from "@railfault/sim";
import { normals } from "../../packages/sim/scripts/instrument.ts";
import { judgedValues } from "./records.ts";

/** Time constant of the fall and length of the rise, s; height, V. */
const TAU = 100e-6;
const RISE = 300e-6;
const HEIGHT = 10;

export interface BendsFound {
  readonly told: number;
  /** Records in which the true steepest slope lies within ±. */
  readonly rise: number;
  readonly fall: number;
  /** Told with one of both as so steep or steeper. */
  readonly steeper: number;
  /** Mean of ± as a share of the slope. */
  readonly width: number;
}

/**
 * A rise as half a cosine, steepest in its middle with πH/2T, and a fall as an exponential, steepest where it begins with H/τ. Both bend within the stretch over which a
 * slope is told.
 */
export function bends(seeds: number, interval: number): BendsFound {
  const truth = { rise: (Math.PI * HEIGHT) / (2 * RISE), fall: HEIGHT / TAU };
  let [told, rise, fall, steeper, width] = [0, 0, 0, 0, 0];
  for (let seed = 1; seed <= seeds; seed++) {
    const gauss = normals(seed);
    const begin = interval * (50 + ((seed * 0.618) % 1));
    const breaks = begin + 2 * RISE;
    const values = Float64Array.from({ length: 200 + Math.round(10 * (RISE / interval)) }, (_, k) => {
      const t = k * interval;
      const up = Math.min(1, Math.max(0, (t - begin) / RISE));
      const down = t < breaks ? 1 : Math.exp(-(t - breaks) / TAU);
      return HEIGHT * 0.5 * (1 - Math.cos(Math.PI * up)) * down + 0.01 * gauss();
    });
    const judged = judgedValues(values, interval, 0, 100);
    if (judged.rise === null || judged.fall === null) continue;
    told++;
    // What is told as so steep or steeper holds all that is.
    const holds = ({ value, plusMinus, atLeast }: Slope, slope: number): boolean =>
      Math.abs(value) - plusMinus <= slope && (atLeast || slope <= Math.abs(value) + plusMinus);
    if (judged.rise.atLeast || judged.fall.atLeast) steeper++;
    if (holds(judged.rise, truth.rise)) rise++;
    if (holds(judged.fall, truth.fall)) fall++;
    width += (judged.rise.plusMinus / judged.rise.value - judged.fall.plusMinus / judged.fall.value) / 2 / seeds;
  }
  return { told, rise, fall, steeper, width };
}
