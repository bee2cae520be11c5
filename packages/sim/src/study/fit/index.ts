export { type Alignment, alignWaveforms, type Waveform } from "./align.ts";
export { askablePaths } from "./askable.ts";
export { fitScenario, layCapture } from "./fit.ts";
export { fitCsv, fitHeadline, fitJson, fitStatus, renderFit } from "./report.ts";
export { alignmentSentence, valueSentence } from "./sentences.ts";
export type {
  EventRow,
  Fit,
  FitAnswer,
  FitHooks,
  FitOptions,
  FittedChannel,
  FittedValue,
  Misfit,
  Together,
} from "./types.ts";
