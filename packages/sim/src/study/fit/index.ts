export { type Alignment, alignWaveforms, type Waveform } from "./align.ts";
export { fitScenario } from "./fit.ts";
export type { EventRow, Fit, FitAnswer, FitOptions, FittedChannel, FittedValue, Misfit, Together } from "./types.ts";
