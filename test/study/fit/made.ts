import type { Fit, FittedChannel, FittedValue } from "../../../packages/sim/src/index.ts";

/** A value that was found, 15.02 V ± 0.03 V, where it differs in nothing. */
export const foundValue = (change: Partial<FittedValue> = {}): FittedValue => ({
  path: ["crowbar", "trip voltage"],
  label: "crowbar: trip voltage",
  dimension: "voltage",
  unit: "V",
  nominal: 15,
  low: 12,
  high: 18,
  value: 15.02,
  from: 14.99,
  to: 15.05,
  error: 0.0153,
  state: "found",
  ...change,
});

const QUIET = {
  rms: 0.05,
  ratio: 1,
  runs: 0,
  slow: 0,
  ripple: null,
  edge: null,
  worst: 0.4,
  isAtEvents: false,
  isBeyondNoise: false,
} as const;

/** A channel of which nothing but noise is left, where it differs in nothing; `misfit`: how much more. */
export function shownChannel(
  change: Partial<Omit<FittedChannel, "misfit">> = {},
  misfit: Partial<FittedChannel["misfit"]> = {},
): FittedChannel {
  return {
    name: "radio",
    unit: "V",
    column: "radio_V",
    samples: 3,
    every: 1,
    off: 0.05,
    zero: { value: 0.01, plusMinus: 0.002 },
    lag: { value: 0, plusMinus: 0 },
    time: Float64Array.of(0, 1e-3, 2e-3),
    captured: Float64Array.of(14, 14, 14),
    simulated: Float64Array.of(14, 14, 14),
    residual: new Float64Array(3),
    ...change,
    misfit: { ...QUIET, ...misfit },
  };
}

/** A fit of one value and one channel, with nothing to complain of. */
export const madeFit = (change: Partial<Fit> = {}): Fit => ({
  kind: "fitted",
  title: "Hut",
  file: "hut.yaml",
  captureFile: "bench.csv",
  alignment: { shift: 0.0123, by: "threshold", likeness: 0.98, score: 0.98, alike: 0, first: null },
  shift: { value: 0.0123, plusMinus: 0.0002 },
  values: [foundValue()],
  correlations: [[1]],
  together: [],
  channels: [shownChannel()],
  leftOut: [],
  events: [],
  untold: [],
  misfits: [],
  isQuiet: false,
  isAnother: false,
  isConverged: true,
  simulations: 12,
  scenario: null,
  answer: null,
  issues: [],
  ...change,
});
