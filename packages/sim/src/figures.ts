/** Public entry `@railfault/sim/figures`: pictures from plain data. No DOM and no Node of its own: the document is passed in. */
export { captureFigure } from "./report/figure/capture-figure.ts";
export type { CaptureFigureChannel, CaptureFigureData, CapturePiece } from "./report/figure/capture-types.ts";
export type {
  ChartOptions,
  HeadroomData,
  HeadroomLimit,
  SurgeData,
  TimeCurrentCurve,
  TimeCurrentData,
} from "./report/figure/chart-types.ts";
export type { Frame } from "./report/figure/draw.ts";
export { faultFigure, figurePlaces, figureTimeAxis, placedFaultFigure } from "./report/figure/fault-figure.ts";
export { fitFigure } from "./report/figure/fit-figure.ts";
export type { FitFigureChannel, FitFigureData } from "./report/figure/fit-types.ts";
export { headroomFigure } from "./report/figure/headroom-figure.ts";
export { heatFigure } from "./report/figure/heat-figure.ts";
export type { HeatData, HeatOptions } from "./report/figure/heat-types.ts";
export { legendFigure } from "./report/figure/legend-figure.ts";
export type { LimitedCurve } from "./report/figure/limited-panel.ts";
export { lineDiagram } from "./report/figure/line/diagram.ts";
export type { LineBranch, LineDiagramData, LinePart, LinePartKind } from "./report/figure/line/types.ts";
export { matchFigure } from "./report/figure/match-figure.ts";
export type { MatchCell, MatchCellState, MatchData } from "./report/figure/match-types.ts";
export { multiplesFigure } from "./report/figure/multiples-figure.ts";
export type { MultiplesData, MultiplesPanel } from "./report/figure/multiples-types.ts";
export type { EventPlace, FigurePlaces, PlotPlace } from "./report/figure/places.ts";
export type { PlanOptions as FigurePlanOptions } from "./report/figure/plan.ts";
export { planeFigure } from "./report/figure/plane-figure.ts";
export type { PlaneAxis, PlaneData, PlaneKind, PlaneTone, SweepData } from "./report/figure/plane-types.ts";
export { type Readings, readingsAt } from "./report/figure/readings-at.ts";
export { sharedAxes } from "./report/figure/shared-axes.ts";
export { type PictureSize, sizes } from "./report/figure/size.ts";
export { stepFigure, wordsFigure } from "./report/figure/step-figure.ts";
export type { StepData, WordsData } from "./report/figure/step-types.ts";
export { surgeBarsFigure } from "./report/figure/surge-figure.ts";
export { svgFile } from "./report/figure/svg-file.ts";
export { sweepFigure } from "./report/figure/sweep-figure.ts";
export { keepUnits } from "./report/figure/text.ts";
export type { TimeAxis, TimeTick } from "./report/figure/time-axis.ts";
export { timeCurrentFigure } from "./report/figure/time-current-figure.ts";
export { tolerancesFigure } from "./report/figure/tolerances-figure.ts";
export type { HistogramData, TolerancesData } from "./report/figure/tolerances-types.ts";
export { tripFigure } from "./report/figure/trip-figure.ts";
export type { TripData, TripPoint, TripRange, TripSide } from "./report/figure/trip-types.ts";
export type {
  CurrentCurve,
  FigureEvent,
  FigureOptions,
  PanelName,
  PictureOptions,
  SharedAxes,
  SizeName,
  StateRow,
  StateSpan,
  Tone,
  VoltageCurve,
  WaveformData,
} from "./report/figure/types.ts";
export { withstandFigure } from "./report/figure/withstand-figure.ts";
export type { LoadWithstand, WithstandData, WithstandPoint } from "./report/figure/withstand-types.ts";
export { figureData } from "./report/figure-data.ts";
export { headroomData } from "./report/figure-data-headroom.ts";
export { heatData } from "./report/figure-data-heat.ts";
export { surgeData } from "./report/figure-data-surge.ts";
export { timeCurrentData } from "./report/figure-data-time-current.ts";
export { currentsData, statesData } from "./report/figure-data-views.ts";
export { withstandData } from "./report/figure-data-withstand.ts";
export { type LineDiagramChoice, lineDiagramData } from "./report/line-data.ts";
export {
  type FigureName,
  type FigureOfRun,
  type FigureSource,
  figureOfRun,
  figures,
  type NoFigure,
  type RunFigure,
  type RunFigureOptions,
} from "./report/run-figures.ts";
export { multiplesData, overlayData } from "./study/compare/figure-data.ts";
export { type CompareFigure, compareFigure } from "./study/compare/figures.ts";
export { fitData } from "./study/fit/figure-data.ts";
export { tolerancesData } from "./study/spread/figure-data.ts";
export { handoutHtml } from "./study/talk/handout.ts";
export { type OfferedSlide, offeredSlides } from "./study/talk/offer.ts";
export { slideFigure } from "./study/talk/show.ts";
export { cautionSlide, proposeTalk, slideName, type TalkPart } from "./study/talk/slides.ts";
export { type TalkOptions, type TalkPicture, talkHtml, talkPicture, talkPictures } from "./study/talk/talk-html.ts";
export { tripData } from "./study/trip/figure-data.ts";
export { matchData } from "./study/weakest/matrix.ts";
export { planeData, sweepData } from "./study/whatif/figure-data.ts";
