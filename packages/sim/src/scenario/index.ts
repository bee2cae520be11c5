export { regulatorDamping } from "./check/warnings.ts";
export { type Described, type DescribedValue, describedPaths, describeValue } from "./describe.ts";
export { FitMemory } from "./fit-memory.ts";
export { formatIssues } from "./format-issues.ts";
export { drawOnTransmit, type FuseHolds, holdsOnTransmit, type TransmitDraw } from "./on-transmit.ts";
export { parseScenario } from "./parse.ts";
export { placeIssues } from "./place.ts";
export { fuseDuties } from "./prospective.ts";
export { resolveScenario, type ScenarioResult } from "./resolve/index.ts";
export { scenarioJsonSchema } from "./schema/json-schema.ts";
export type { ScenarioText } from "./schema/scenario.ts";
export { SCHEME_WORDS, type SchemeWord } from "./schema/scheme-words.ts";
export { type ServiceDraw, serviceDraws } from "./service.ts";
export type { FittedFuse, Origin } from "./sheet.ts";
export { changeText, changeTexts, type TextChange } from "./text/change.ts";
export { FORM_CHANGES, type FormChange, inPresentForm, SCENARIO_FORM } from "./text/form.ts";
export { setValue } from "./text/splice.ts";
export { asValue } from "./text/written.ts";
export {
  AS_IT_STANDS,
  bareLine,
  flowText,
  identity,
  isSchemeWord,
  type LineChange,
  nameOf,
  PART_NOT_THERE,
  SCHEME_ABOUT,
  type VariantLine,
  type VariantLines,
  type VariantOptions,
  variantLines,
  variantText,
  writtenVariants,
} from "./variants/index.ts";
