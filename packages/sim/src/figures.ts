/** Public entry `@railfault/sim/figures`: pictures from plain data. No DOM and no Node of its own: the document is passed in. */
export { faultFigure, figureTimeAxis } from "./report/figure/fault-figure.ts";
export type { TimeAxis } from "./report/figure/time-axis.ts";
export type {
  CurrentCurve,
  FigureEvent,
  FigureOptions,
  PanelName,
  StateRow,
  StateSpan,
  Tone,
  VoltageCurve,
  WaveformData,
} from "./report/figure/types.ts";
export { figureData } from "./report/figure-data.ts";
