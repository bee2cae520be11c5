import type { Headed } from "./chart-types.ts";

/** A capture laid over a run, and what is left between the two. SI units, times s of the run. */
export interface FitFigureData extends Headed {
  /** From top to bottom. */
  readonly channels: readonly FitFigureChannel[];
}

/** One channel with the run laid on it: times in s, as many values of each in its unit. */
export interface FitFigureChannel {
  /** What the capture calls it. */
  readonly label: string;
  /** Of captured, simulated and band. */
  readonly unit: "V" | "A";
  /** Never falling; at least two. */
  readonly time: Float64Array;
  /** What the instrument recorded. */
  readonly captured: Float64Array;
  /** What the run shows at the same times. */
  readonly simulated: Float64Array;
  /** Twice what a captured value may be off by alone: what is left lies within it 19 times of 20 where nothing is missing. */
  readonly band: number;
  /** Whether something is left that noise does not explain. */
  readonly isBeyondNoise: boolean;
}
