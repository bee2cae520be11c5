/**
 * Public entry `@railfault/sim`: scenario files, runs, verdicts and what is made of them. No document and nothing of Node's.
 *
 * @example
 * const result = runScenario(text, "hut.yaml");
 * console.log(result.kind === "refused" ? formatIssues(result.issues) : renderText(result.verdict));
 */

export { InvalidInput, type Issue, type Position } from "./issue/issue.ts";
export type * from "./model/result.ts";
export { type Method, type RunOptions, Simulation, simulate } from "./model/run.ts";
export { csvLines } from "./report/csv.ts";
export { RESULT_FORMAT, type ResultOrigin, resultData, resultJson } from "./report/json.ts";
export { type ListedValue, listValues } from "./report/parts-list.ts";
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
export {
  AS_IT_STANDS,
  asValue,
  changeText,
  changeTexts,
  type DescribedValue,
  describedPaths,
  describeValue,
  FitMemory,
  type FittedFuse,
  flowText,
  formatIssues,
  identity,
  isSchemeWord,
  type LineChange,
  type Origin,
  parseScenario,
  resolveScenario,
  SCHEME_ABOUT,
  SCHEME_WORDS,
  type ScenarioResult,
  type ScenarioText,
  type SchemeWord,
  type ServiceDraw,
  scenarioJsonSchema,
  serviceDraws,
  setValue,
  type TextChange,
  type VariantLine,
  type VariantLines,
  type VariantOptions,
  variantLines,
  variantText,
  writtenVariants,
} from "./scenario/index.ts";
export { findPart, partNames, parts } from "./scenario/parts/index.ts";
export type { Cited, Mark, PartClass, PartKind } from "./scenario/parts/types.ts";
export { PULSE_WITHSTAND } from "./scenario/surge.ts";
export type * from "./scenario/types.ts";
export * from "./study/compare/index.ts";
export { minMaxSample, type SampledCurve } from "./trace/sample.ts";
export { thinTrace } from "./trace/thin.ts";
export type { Excursion, Peak, Trace, TraceColumn } from "./trace/types.ts";
export { type Dimension, formatQuantity, groupDigits, type ParsedQuantity, parseQuantity } from "./units/index.ts";
export { type JudgeContext, judge } from "./verdict/judge.ts";
export { bySecondRun } from "./verdict/second-run.ts";
export type * from "./verdict/types.ts";
