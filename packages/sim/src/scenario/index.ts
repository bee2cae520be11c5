export { regulatorDamping } from "./check/warnings.ts";
export { formatIssues } from "./format-issues.ts";
export { parseScenario } from "./parse.ts";
export { type FuseDuty, fuseDuties } from "./prospective.ts";
export { resolveScenario, type ScenarioResult } from "./resolve/index.ts";
export { scenarioJsonSchema } from "./schema/json-schema.ts";
export type { ScenarioText } from "./schema/scenario.ts";
export type { FittedFuse, Origin } from "./sheet.ts";
export { setValue } from "./text/splice.ts";
