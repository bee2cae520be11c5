/**
 * Public entry `@railfault/sim`: scenario files, runs, verdicts and what is made of them. No document and nothing of Node's.
 *
 * @example
 * const result = runScenario(text, "hut.yaml");
 * console.log(result.kind === "refused" ? formatIssues(result.issues) : renderText(result.verdict));
 */

export * from "./capture/index.ts";
export type { LoopStatus } from "./hybrid/types.ts";
export type { SampleRequest } from "./hybrid/watcher.ts";
export { InvalidInput, type Issue, type Position } from "./issue/issue.ts";
export type { Method } from "./model/integrator.ts";
export type * from "./model/result.ts";
export type { Outcome as RunOutcome } from "./model/result.ts";
export { type RunOptions, Simulation, simulate } from "./model/run.ts";
export { type CountedFrom, csvLines } from "./report/csv.ts";
export { RESULT_FORMAT, resultData, resultJson } from "./report/json.ts";
export { type ListedValue, listValues } from "./report/parts-list.ts";
export type {
  AnsweredDocument,
  FitDocument,
  RefusedDocument,
  ResultDocument,
  ResultOrigin,
} from "./report/result-document.ts";
export {
  type Answered,
  checkScenario,
  type Refused,
  type RunStage,
  runScenario,
  ScenarioRun,
  type ScenarioRunOptions,
} from "./report/run-scenario.ts";
export { renderText, type TextOptions } from "./report/text.ts";
export { heldRiseAtOnce } from "./scenario/copper-heat.ts";
export {
  AS_IT_STANDS,
  asValue,
  changeText,
  changeTexts,
  type Described,
  type DescribedValue,
  describedPaths,
  describeValue,
  drawOnTransmit,
  FitMemory,
  type FittedFuse,
  type FuseHolds,
  flowText,
  formatIssues,
  holdsOnTransmit,
  identity,
  isSchemeWord,
  type LineChange,
  type Origin,
  parseScenario,
  resolveScenario,
  SCENARIO_FORM,
  SCHEME_ABOUT,
  SCHEME_WORDS,
  type ScenarioResult,
  type ScenarioText,
  type SchemeWord,
  scenarioJsonSchema,
  setValue,
  type TextChange,
  type TransmitDraw,
  type VariantLine,
  type VariantLines,
  type VariantOptions,
  variantLines,
  variantText,
  writtenVariants,
} from "./scenario/index.ts";
export type { Path } from "./scenario/keys.ts";
export { meltingCurrentAt } from "./scenario/melting-current.ts";
export type { FuseFit, FuseFitInput } from "./scenario/parts/fuse-fit-types.ts";
export { findPart, partNames, parts } from "./scenario/parts/index.ts";
export type { FosterStage } from "./scenario/parts/junction.ts";
export type { Cited, Mark, PartClass, PartField, PartKind } from "./scenario/parts/types.ts";
export type { Locate } from "./scenario/sheet.ts";
export type { Spread, SpreadShape } from "./scenario/spread/types.ts";
export { PULSE_WITHSTAND } from "./scenario/surge.ts";
export type * from "./scenario/types.ts";
export * from "./study/compare/index.ts";
export * from "./study/fit/index.ts";
export {
  Cancelled,
  type Crew,
  type CrewMaker,
  type DealOptions,
  type Progress,
  type Signal,
} from "./study/pool/deal.ts";
export { type Batch, type BatchResult, type BrokenSample, Evaluator, type Setup } from "./study/pool/evaluate.ts";
export { OUTCOMES, type Outcome } from "./study/pool/outcome.ts";
export { ownThread } from "./study/pool/own-thread.ts";
export type { Varied } from "./study/pool/readings.ts";
export { type CollectAnswer, type Collected, collect } from "./study/spread/collect.ts";
export { type TolerancesOptions, USUAL_OPTIONS } from "./study/spread/options.ts";
export type { Rows } from "./study/spread/rows.ts";
export type { Chance } from "./study/spread/statistics.ts";
export {
  type Distribution,
  type Influence,
  reproduce,
  summarise,
  type Told,
  type TolerancesSummary,
} from "./study/spread/summary.ts";
export { samplesCsv } from "./study/spread/table.ts";
export { headline as tolerancesHeadline, renderTolerances } from "./study/spread/text.ts";
export * from "./study/talk/index.ts";
export * from "./study/trip/index.ts";
export { asItStands, heatSinkWords } from "./study/weakest/answer.ts";
export { heatSinkNeeded, onStatePower } from "./study/weakest/heat-sink.ts";
export {
  factSentences,
  type MatchTextOptions,
  matchCsv,
  matchJson,
  matchMarkdown,
  matchReasons,
  matchText,
  shortList,
  soundSentences,
} from "./study/weakest/report.ts";
export { MatchRun, matchParts } from "./study/weakest/run.ts";
export { type Draw, largestDraws } from "./study/weakest/service.ts";
export { type MatchProgress, type MatchStep, MatchStudy } from "./study/weakest/study.ts";
export type {
  Candidate,
  Check,
  Combination,
  Ending,
  FaultStyle,
  LineFacts,
  MatchAnswer,
  MatchOptions,
  MatchRefused,
  Mend,
  Outcome as MatchOutcome,
  Remedy,
  RuleName,
  RuleSubject,
  SavedMatch,
} from "./study/weakest/types.ts";
export type { Axis } from "./study/whatif/axis.ts";
export type { Cell } from "./study/whatif/plane.ts";
export { renderWhatIf, whatIfCsv, whatIfHeadline } from "./study/whatif/report.ts";
export {
  type Point,
  pointAt,
  scenarioAt,
  USUAL_WHATIF,
  type WhatIf,
  type WhatIfAnswer,
  type WhatIfOptions,
  whatIf,
} from "./study/whatif/study.ts";
export { minMaxSample, type SampledCurve } from "./trace/sample.ts";
export { thinTrace } from "./trace/thin.ts";
export type { Excursion, Peak, Trace, TraceColumn } from "./trace/types.ts";
export {
  type Dimension,
  type FormatOptions,
  formatQuantity,
  groupDigits,
  type ParsedQuantity,
  parseQuantity,
  type QuantityProblem,
} from "./units/index.ts";
export { CAUTIONS } from "./verdict/cautions.ts";
export { endangeredLater } from "./verdict/exit-status.ts";
export type { Prospective } from "./verdict/fuses.ts";
export { type JudgeContext, judge } from "./verdict/judge.ts";
export { endOf } from "./verdict/look.ts";
export { bySecondRun } from "./verdict/second-run.ts";
export type * from "./verdict/types.ts";
